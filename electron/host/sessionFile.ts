import { lstat, open, readFile, stat } from "node:fs/promises";
import { type ReadOptions, type ReadSession, Recording, SessionError } from "../../core/session/recording.ts";
import { AppendQueue, type AppendTarget, type SavedState } from "./appendQueue.ts";
import { LockFile } from "./lockFile.ts";
import { WRITE_HERE, writeWhole } from "./safeFiles.ts";
import { openSessionTarget } from "./sessionTarget.ts";
import { sha256 } from "./sha256.ts";

export interface SessionFileOptions {
  readonly onState?: (state: SavedState) => void;
  /** Time between attempts after a failure, ms. */
  readonly retryMs?: number;
  /** A disk that has not answered for so long is trouble, ms. */
  readonly patienceMs?: number;
  /** Puts something between the queue and the file; tests let the disk fail with it. */
  readonly wrapTarget?: (target: AppendTarget) => AppendTarget;
}

/** A session read from its file, and the file itself open for going on; null when it may only be looked at. */
export interface OpenedSession {
  readonly read: ReadSession;
  readonly file: SessionFile | null;
  /** What was set aside when the file was opened: how many bytes, and the file that holds them now. */
  readonly setAside: { readonly bytes: number; readonly path: string } | null;
  /** Why it is open for reading only, or null. */
  readonly readOnlyWhy: string | null;
}

/** One session file, open for appending by this process alone. */
export class SessionFile {
  readonly path: string;
  readonly #queue: AppendQueue;
  readonly #lock: LockFile;

  private constructor(path: string, queue: AppendQueue, lock: LockFile) {
    this.path = path;
    this.#queue = queue;
    this.#lock = lock;
  }

  /**
   * Makes a new session file that holds the header, on disk when this resolves.
   * @throws FileExistsError when it is there and `overwrite` is false; LockedError when another program writes it.
   */
  static async create(
    path: string,
    headerText: string,
    overwrite: boolean,
    options: SessionFileOptions = {},
  ): Promise<SessionFile> {
    const lock = await LockFile.take(path);
    try {
      await writeWhole(path, headerText, overwrite);
      return await SessionFile.#openQueue(path, Buffer.from(headerText, "utf8"), lock, options);
    } catch (error) {
      await lock.release();
      throw error;
    }
  }

  /**
   * Opens a session to go on with it. A torn tail is first copied into a file beside it, then cut off. A broken seal
   * opens it for reading only, as the chain must not be made to look whole by going on; so does a link, as whoever
   * writes the file itself would not see its lock.
   * @throws SessionError when it is no session, LockedError when another program writes it.
   */
  static async open(path: string, options: SessionFileOptions = {}): Promise<OpenedSession> {
    if ((await lstat(path)).isSymbolicLink()) {
      const readOnlyWhy = "it is a link to a file elsewhere; the session opens for reading only";
      return { ...(await SessionFile.look(path)), readOnlyWhy };
    }
    const lock = await LockFile.take(path);
    try {
      const bytes = await readOrdinary(path);
      const read = await readSessionInSlices(bytes);
      const broken = read.broken[0];
      if (broken !== undefined) {
        await lock.release();
        const readOnlyWhy = `the seal is broken at line ${broken.line} (${broken.why}); the session opens for reading only`;
        return { read, file: null, setAside: null, readOnlyWhy };
      }
      let setAside: OpenedSession["setAside"] = null;
      if (read.torn !== null) {
        const tail = bytes.subarray(read.torn.wholeBytes);
        const aside = await freeName(`${path}.torn`);
        await writeWhole(aside, tail, false);
        await cutOff(path, read.torn.wholeBytes);
        setAside = { bytes: tail.length, path: aside };
      }
      const whole = bytes.subarray(0, read.torn?.wholeBytes ?? bytes.length);
      const file = await SessionFile.#openQueue(path, whole, lock, options);
      return { read, file, setAside, readOnlyWhy: null };
    } catch (error) {
      await lock.release();
      throw error;
    }
  }

  /** Reads a session without the right to write it; a torn tail is reported and left where it is. */
  static async look(path: string): Promise<OpenedSession> {
    return {
      read: await readSessionInSlices(await readOrdinary(path)),
      file: null,
      setAside: null,
      readOnlyWhy: "opened for reading only",
    };
  }

  get saved(): SavedState {
    return this.#queue.state;
  }

  /** Queues records; `whenKept` is called once they are on disk, never before. They may wait for others so long, ms. */
  append(text: string, whenKept?: () => void, mayWaitMs = 0): void {
    this.#queue.append(text, whenKept, mayWaitMs);
  }

  /** Calls back once everything appended so far is on disk. */
  whenKept(then: () => void): void {
    this.#queue.whenKept(then);
  }

  /** Resolves when all is on disk; rejects with the trouble's sentence. */
  flush(): Promise<void> {
    return this.#queue.flush();
  }

  /** Flushes, closes, and lets others write it. @throws Error if something could not be saved. */
  async close(): Promise<void> {
    try {
      await this.#queue.close();
    } finally {
      await this.#lock.release();
    }
  }

  static async #openQueue(
    path: string,
    bytes: Uint8Array,
    lock: LockFile,
    options: SessionFileOptions,
  ): Promise<SessionFile> {
    const target = await openSessionTarget(path, bytes, lock);
    const { onState, retryMs, patienceMs } = options;
    const queue = new AppendQueue(options.wrapTarget?.(target) ?? target, {
      position: bytes.length,
      name: path,
      ...(onState === undefined ? {} : { onState }),
      ...(retryMs === undefined ? {} : { retryMs }),
      ...(patienceMs === undefined ? {} : { patienceMs }),
    });
    return new SessionFile(path, queue, lock);
  }
}

/** Reads a session from the bytes of its file. @throws SessionError when it is none. */
export function readSessionBytes(bytes: Uint8Array): ReadSession {
  return Recording.read(textOf(bytes), { hash: sha256 });
}

/** How long reading keeps the processor before others have a turn, ms: a gauge's line must get its time at once. */
const SLICE_MS = 4;

/**
 * `readSessionBytes`, in slices: while a walk goes on in this program, its gauges are heard in between.
 * @throws SessionError when it is none.
 */
export async function readSessionInSlices(
  bytes: Uint8Array,
  options: Omit<ReadOptions, "hash"> = {},
): Promise<ReadSession> {
  return inSlices(Recording.readByLine(textOf(bytes), { ...options, hash: sha256 }));
}

/** Takes a long work's steps, and lets the gauges be heard in between. */
export async function inSlices<T>(steps: Generator<unknown, T, void>): Promise<T> {
  for (;;) {
    const until = performance.now() + SLICE_MS;
    while (performance.now() < until) {
      const step = steps.next();
      if (step.done === true) return step.value;
    }
    await new Promise((resolve) => setImmediate(resolve));
  }
}

function textOf(bytes: Uint8Array): string {
  if (bytes.length === 0) throw new SessionError(1, "the file is empty; expected a session's header");
  // Damaged UTF-8 becomes a replacement sign, which no seal covers; the reading says at which line.
  return new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
}

/** The file's bytes. @throws SessionError for what is no ordinary file: a pipe would be waited for without end. */
async function readOrdinary(path: string): Promise<Buffer> {
  if (!(await stat(path)).isFile()) throw new SessionError(1, "not an ordinary file; expected a session's file");
  return readFile(path);
}

async function cutOff(path: string, length: number): Promise<void> {
  const handle = await open(path, WRITE_HERE);
  try {
    await handle.truncate(length);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function freeName(path: string): Promise<string> {
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? path : `${path}-${number}`;
    if ((await stat(name).catch(() => null)) === null) return name;
  }
}
