import { diskSentence } from "./diskSentence.ts";

/**
 * The file below the queue. Positions are bytes from the start of the file. `write` may write less than asked and
 * says how much; `datasync` returns when what was written is on the disk itself, not only in memory. Each batch is
 * written from where the last one that was synced ended.
 */
export interface AppendTarget {
  write(bytes: Uint8Array, offset: number, length: number, position: number): Promise<number>;
  datasync(): Promise<void>;
  /**
   * Before an attempt that follows a failure: puts right what can be put right, and says in a sentence what was done,
   * null where there was nothing. Throws while it cannot be.
   */
  renew?(): Promise<string | null>;
  close(): Promise<void>;
}

export interface SavedState {
  /** Records appended and not yet known to be on the disk. */
  readonly pending: number;
  /** How long the oldest of them has waited, ms; absent when none does. */
  readonly pendingMs?: number;
  /** The loud NOT SAVED, or null while all is well. */
  readonly trouble: string | null;
  /** What the last trouble came to, once it is over; absent before any. */
  readonly cured?: string;
}

export interface AppendQueueOptions {
  /** Bytes already in the file: where the first record goes. */
  readonly position: number;
  /** What the file is called in a sentence. */
  readonly name: string;
  readonly onState?: (state: SavedState) => void;
  /** Time between attempts after a failure, ms. */
  readonly retryMs?: number;
  /** A disk that has not answered for so long is trouble, ms. */
  readonly patienceMs?: number;
}

/** Thrown where something could not be saved. The message is the loud NOT SAVED; `why` is the disk's part of it. */
export class NotSavedError extends Error {
  override readonly name = "NotSavedError";
  readonly why: string;
  constructor(message: string, why: string) {
    super(message);
    this.why = why;
  }
}

interface Waiting {
  readonly sinceMs: number;
  /** When it is to go to the disk at the latest, by the same clock. */
  readonly dueMs: number;
  /** The record; null for one who only waits for those before. */
  readonly text: string | null;
  readonly whenKept: (() => void) | undefined;
}

/** Longest batch, letters: after hours without a disk what waits is saved piece by piece, as far as there is room. */
const LONGEST_BATCH = 1_000_000;
const PATIENCE_MS = 5_000;

/**
 * One writer, one write in flight, a queue behind it: what arrives during a write goes to disk together with the next
 * (group commit). A record is acknowledged only after the sync that covers it, in the order of appending.
 *
 * After a failed write or sync the whole batch is written again from the last synced byte, because an operating system
 * may drop what it could not write and report the failure only once. Until that works nothing is acknowledged and
 * every record stays in memory.
 */
export class AppendQueue {
  readonly #target: AppendTarget;
  readonly #name: string;
  readonly #onState: (state: SavedState) => void;
  readonly #retryMs: number;
  readonly #patienceMs: number;
  readonly #encoder = new TextEncoder();
  #syncedTo: number;
  #waiting: Waiting[] = [];
  /** Of those waiting, the records. */
  #pending = 0;
  #running: Promise<void> | null = null;
  /** The write that runs has not come back for longer than is waited for. */
  #stuck = false;
  #retryTimer: NodeJS.Timeout | null = null;
  #gatherTimer: NodeJS.Timeout | null = null;
  /** Somebody waits for all that is here, so that none of it may wait for more. */
  #pressed = false;
  #trouble: string | null = null;
  /** What the disk said of it. */
  #why = "";
  #cured: string | undefined;
  #closed = false;
  /** Those who wait until nothing is pending or it is plain that the disk refuses. */
  #watchers: (() => void)[] = [];

  constructor(target: AppendTarget, options: AppendQueueOptions) {
    this.#target = target;
    this.#syncedTo = options.position;
    this.#name = options.name;
    this.#onState = options.onState ?? (() => {});
    this.#retryMs = options.retryMs ?? 1000;
    this.#patienceMs = options.patienceMs ?? PATIENCE_MS;
  }

  get state(): SavedState {
    const oldest = this.#pending === 0 ? undefined : this.#waiting.find(({ text }) => text !== null);
    return {
      pending: this.#pending,
      ...(oldest === undefined ? {} : { pendingMs: performance.now() - oldest.sinceMs }),
      trouble: this.#trouble,
      ...(this.#cured === undefined ? {} : { cured: this.#cured }),
    };
  }

  /** Bytes known to be on the disk. */
  get syncedBytes(): number {
    return this.#syncedTo;
  }

  /**
   * Queues `text`; `whenKept` is called once it is on the disk, never before and never if it does not get there. It goes
   * there at once, or, where nobody waits for it, with the next that does and `mayWaitMs` later at the latest.
   * @throws Error after `close`.
   */
  append(text: string, whenKept?: () => void, mayWaitMs = 0): void {
    if (this.#closed) throw new Error(`${this.#name} is closed; nothing can be added to it`);
    const now = performance.now();
    this.#waiting.push({ sinceMs: now, dueMs: now + mayWaitMs, text, whenKept });
    this.#pending += 1;
    this.#tellState();
    this.#start();
  }

  /** Calls back when everything appended so far is on the disk; at once when nothing is pending. */
  whenKept(then: () => void): void {
    if (this.#running === null && this.#waiting.length === 0) {
      then();
      return;
    }
    const now = performance.now();
    this.#waiting.push({ sinceMs: now, dueMs: now, text: null, whenKept: then });
    this.#start();
  }

  /** Resolves when nothing is pending. @throws NotSavedError if the disk refuses or does not answer. */
  async flush(): Promise<void> {
    this.#pressed = true;
    if (this.#trouble !== null) this.retryNow();
    else this.#start();
    while (this.#running !== null && !this.#stuck) {
      await new Promise<void>((resolve) => this.#watchers.push(resolve));
    }
    if (this.#trouble !== null) throw new NotSavedError(this.#trouble, this.#why);
  }

  /** Tries again at once after trouble instead of waiting for the next attempt. */
  retryNow(): void {
    if (this.#retryTimer !== null) clearTimeout(this.#retryTimer);
    this.#retryTimer = null;
    this.#start(true);
  }

  /** Flushes and closes the file. @throws NotSavedError if something could not be saved; the file is closed all the same. */
  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    try {
      await this.flush();
    } finally {
      if (this.#retryTimer !== null) clearTimeout(this.#retryTimer);
      this.#retryTimer = null;
      if (this.#gatherTimer !== null) clearTimeout(this.#gatherTimer);
      const closing = this.#target.close();
      // A disk that does not answer will not answer this either.
      if (this.#stuck) closing.catch(() => {});
      else await closing;
    }
  }

  #start(retry = false): void {
    if (this.#running !== null || (this.#trouble !== null && !retry)) return;
    if (this.#waiting.length === 0) return;
    if (this.#gatherTimer !== null) clearTimeout(this.#gatherTimer);
    this.#gatherTimer = null;
    const inMs = retry ? 0 : this.#dueInMs();
    if (inMs > 0) {
      this.#gatherTimer = setTimeout(() => this.#start(), inMs);
      return;
    }
    this.#running = this.#run().finally(() => {
      this.#running = null;
      if (this.#waiting.length === 0) this.#pressed = false;
      if (this.#trouble === null) this.#start();
      this.#wakeWatchers();
    });
  }

  /** How long all that waits may still wait, ms; 0 or less when some of it is due. */
  #dueInMs(): number {
    if (this.#pressed) return 0;
    const due = this.#waiting.reduce((first, { dueMs }) => Math.min(first, dueMs), Number.POSITIVE_INFINITY);
    return due - performance.now();
  }

  async #run(): Promise<void> {
    do {
      // What is appended in one turn goes to the disk together.
      await null;
      const batch = this.#nextBatch();
      const watch = this.#watchDisk();
      let mended: string | null = null;
      try {
        if (this.#trouble !== null) mended = (await this.#target.renew?.()) ?? null;
        await this.#commit(batch);
      } catch (error) {
        this.#stuck = false;
        this.#fail(diskSentence(error));
        if (!this.#closed) this.#retryTimer = setTimeout(() => this.retryNow(), this.#retryMs);
        return;
      } finally {
        clearInterval(watch);
      }
      this.#waiting.splice(0, batch.length);
      for (const { text } of batch) if (text !== null) this.#pending -= 1;
      this.#stuck = false;
      if (this.#trouble !== null) {
        this.#trouble = null;
        this.#cured = `Saved again: what was measured meanwhile is on the disk.${mended === null ? "" : ` ${mended}`}`;
      }
      this.#tellState();
      for (const { whenKept } of batch) undisturbed(whenKept);
    } while (this.#waiting.length > 0 && this.#dueInMs() <= 0);
  }

  /** What goes to the disk together: as much as waits, or as fits. */
  #nextBatch(): Waiting[] {
    let count = 0;
    for (let length = 0; count < this.#waiting.length && length < LONGEST_BATCH; count += 1) {
      length += this.#waiting[count]?.text?.length ?? 0;
    }
    return this.#waiting.slice(0, count);
  }

  // Time in which this program itself had no turn is not the disk's.
  #watchDisk(): NodeJS.Timeout {
    const tickMs = this.#patienceMs / 10;
    let waitedMs = 0;
    let lastMs = performance.now();
    const watch = setInterval(() => {
      const now = performance.now();
      if (now - lastMs < 2 * tickMs) waitedMs += now - lastMs;
      lastMs = now;
      if (waitedMs < this.#patienceMs) return;
      clearInterval(watch);
      this.#onStuck();
    }, tickMs);
    return watch;
  }

  #onStuck(): void {
    this.#stuck = true;
    const seconds = Math.round(this.#patienceMs / 1000);
    this.#fail(`the disk has not answered for ${seconds} s; check that it is connected and not asleep`);
    this.#wakeWatchers();
  }

  #fail(why: string): void {
    this.#trouble = `NOT SAVED: ${this.#name} could not be written (${why}). What was measured since is held in memory and will be saved as soon as that is put right; leave the program open.`;
    this.#why = why;
    this.#cured = undefined;
    this.#tellState();
  }

  #tellState(): void {
    undisturbed(() => this.#onState(this.state));
  }

  #wakeWatchers(): void {
    for (const wake of this.#watchers.splice(0)) wake();
  }

  async #commit(batch: readonly Waiting[]): Promise<void> {
    const bytes = this.#encoder.encode(batch.map(({ text }) => text ?? "").join(""));
    if (bytes.length === 0) return;
    let done = 0;
    while (done < bytes.length) {
      const wrote = await this.#target.write(bytes, done, bytes.length - done, this.#syncedTo + done);
      if (wrote <= 0) throw new Error("the disk accepted nothing");
      done += wrote;
    }
    await this.#target.datasync();
    this.#syncedTo += bytes.length;
  }
}

// A listener that throws must not keep the others from hearing that their record is safe, nor the queue from going on.
function undisturbed(tell: (() => void) | undefined): void {
  try {
    tell?.();
  } catch (error) {
    queueMicrotask(() => {
      throw error;
    });
  }
}
