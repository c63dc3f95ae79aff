/**
 * The file below the queue. Positions are bytes from the start of the file. `write` may write less than asked and
 * says how much; `datasync` returns when what was written is on the disk itself, not only in memory.
 */
export interface AppendTarget {
  write(bytes: Uint8Array, offset: number, length: number, position: number): Promise<number>;
  datasync(): Promise<void>;
  close(): Promise<void>;
}

export interface SavedState {
  /** Records appended and not yet known to be on the disk. */
  readonly pending: number;
  /** How long the oldest of them has waited, ms; absent when none does. */
  readonly pendingMs?: number;
  /** The loud NOT SAVED, or null while all is well. */
  readonly trouble: string | null;
}

export interface AppendQueueOptions {
  /** Bytes already in the file: where the first record goes. */
  readonly position: number;
  /** What the file is called in a sentence. */
  readonly name: string;
  readonly onState?: (state: SavedState) => void;
  /** Time between attempts after a failure, ms. */
  readonly retryMs?: number;
}

interface Waiting {
  readonly sinceMs: number;
  readonly bytes: Uint8Array | null;
  readonly whenKept: (() => void) | undefined;
}

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
  readonly #encoder = new TextEncoder();
  #syncedTo: number;
  #waiting: Waiting[] = [];
  #inFlight: Waiting[] = [];
  #running: Promise<void> | null = null;
  #retryTimer: NodeJS.Timeout | null = null;
  #trouble: string | null = null;
  #closed = false;

  constructor(target: AppendTarget, options: AppendQueueOptions) {
    this.#target = target;
    this.#syncedTo = options.position;
    this.#name = options.name;
    this.#onState = options.onState ?? (() => {});
    this.#retryMs = options.retryMs ?? 1000;
  }

  get state(): SavedState {
    let pending = 0;
    for (const waiting of this.#inFlight) if (waiting.bytes !== null) pending += 1;
    for (const waiting of this.#waiting) if (waiting.bytes !== null) pending += 1;
    const oldest = [this.#inFlight, this.#waiting].flatMap(
      (queue) => queue.find(({ bytes }) => bytes !== null) ?? [],
    )[0];
    return {
      pending,
      ...(oldest === undefined ? {} : { pendingMs: performance.now() - oldest.sinceMs }),
      trouble: this.#trouble,
    };
  }

  /** Bytes known to be on the disk. */
  get syncedBytes(): number {
    return this.#syncedTo;
  }

  /**
   * Queues `text`; `whenKept` is called once it is on the disk, never before and never if it does not get there.
   * @throws Error after `close`.
   */
  append(text: string, whenKept?: () => void): void {
    if (this.#closed) throw new Error(`${this.#name} is closed; nothing can be added to it`);
    this.#waiting.push({ sinceMs: performance.now(), bytes: this.#encoder.encode(text), whenKept });
    this.#onState(this.state);
    this.#start();
  }

  /** Calls back when everything appended so far is on the disk; at once when nothing is pending. */
  whenKept(then: () => void): void {
    if (this.#running === null && this.#waiting.length === 0 && this.#inFlight.length === 0) {
      then();
      return;
    }
    this.#waiting.push({ sinceMs: performance.now(), bytes: null, whenKept: then });
    this.#start();
  }

  /** Resolves when nothing is pending; rejects with the trouble's sentence if the disk refuses. */
  async flush(): Promise<void> {
    if (this.#trouble !== null) this.retryNow();
    while (this.#running !== null) await this.#running;
    if (this.#trouble !== null) throw new Error(this.#trouble);
  }

  /** Tries again at once after trouble instead of waiting for the next attempt. */
  retryNow(): void {
    if (this.#retryTimer !== null) clearTimeout(this.#retryTimer);
    this.#retryTimer = null;
    this.#start(true);
  }

  /** Flushes and closes the file. @throws Error if something could not be saved; the file is closed all the same. */
  async close(): Promise<void> {
    if (this.#closed) return;
    this.#closed = true;
    try {
      await this.flush();
    } finally {
      if (this.#retryTimer !== null) clearTimeout(this.#retryTimer);
      this.#retryTimer = null;
      await this.#target.close();
    }
  }

  #start(retry = false): void {
    if (this.#running !== null || (this.#trouble !== null && !retry)) return;
    if (this.#waiting.length === 0 && this.#inFlight.length === 0) return;
    this.#running = this.#run().finally(() => {
      this.#running = null;
      if (this.#trouble === null) this.#start();
    });
  }

  async #run(): Promise<void> {
    while (this.#inFlight.length > 0 || this.#waiting.length > 0) {
      this.#inFlight.push(...this.#waiting);
      this.#waiting = [];
      try {
        await this.#commit(this.#inFlight);
      } catch (error) {
        this.#trouble = `NOT SAVED: ${this.#name} could not be written (${diskSentence(error)}). What was measured since is held in memory and will be saved as soon as the disk allows.`;
        this.#onState(this.state);
        if (!this.#closed) this.#retryTimer = setTimeout(() => this.retryNow(), this.#retryMs);
        return;
      }
      const kept = this.#inFlight;
      this.#inFlight = [];
      this.#trouble = null;
      this.#onState(this.state);
      for (const record of kept) acknowledge(record);
    }
  }

  async #commit(batch: readonly Waiting[]): Promise<void> {
    const bytes = joined(batch);
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

// A listener that throws must not keep the others from hearing that their record is safe.
function acknowledge(record: Waiting): void {
  try {
    record.whenKept?.();
  } catch (error) {
    queueMicrotask(() => {
      throw error;
    });
  }
}

function joined(batch: readonly Waiting[]): Uint8Array {
  let length = 0;
  for (const record of batch) length += record.bytes?.length ?? 0;
  const all = new Uint8Array(length);
  let at = 0;
  for (const record of batch) {
    if (record.bytes === null) continue;
    all.set(record.bytes, at);
    at += record.bytes.length;
  }
  return all;
}

/** What a disk error means, in words for the person at the bench. */
export function diskSentence(error: unknown): string {
  const code = (error as { code?: string } | null)?.code;
  switch (code) {
    case "ENOSPC":
      return "the disk is full; make room on it";
    case "EDQUOT":
      return "the user's share of the disk is full; make room in it";
    case "EIO":
      return "the disk reports an error; check the disk or its cable";
    case "EROFS":
      return "the disk is set to reading only";
    case "EACCES":
    case "EPERM":
      return "writing there is not allowed";
    case "ENOENT":
      return "the folder is not there";
    case "EFBIG":
      return "the file has become too large for this disk";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
