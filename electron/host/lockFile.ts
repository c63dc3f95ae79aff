import { randomUUID } from "node:crypto";
import { link, open, readFile, rename, rm, stat, unlink } from "node:fs/promises";
import { hostname, uptime } from "node:os";
import { NO_LINKS } from "./safeFiles.ts";

/** Who holds a session, as written in its lock file. */
export interface LockHolder {
  readonly pid: number;
  readonly host: string;
  /** When that process took the lock, ISO 8601. */
  readonly started: string;
  /** Tells two processes with the same id apart where the system can say (Linux: clock ticks since boot). */
  readonly ticks: string | null;
  readonly nonce: string;
}

/** Thrown when another program has the session open; the message says which and what to do. */
export class LockedError extends Error {
  override readonly name = "LockedError";
  readonly holder: LockHolder | null;
  constructor(message: string, holder: LockHolder | null) {
    super(message);
    this.holder = holder;
  }
}

/** Where a disk has no links a lock may be seen half written; an unreadable one older than this was left by a crash between making and writing it. */
const HALF_WRITTEN_MS = 5000;

/** Two clocks tell when this computer started, and need not agree to the second, ms. Our choice. */
const START_UNSURE_MS = 60_000;

/** How often the holder looks whether the lock is still its own, ms. */
export const LOCK_CHECK_MS = 2000;

/**
 * The right to write one session file, held by one process at a time: `FILE.lock`, made in one step that fails if it is there.
 * A lock whose process is gone is stale and taken over.
 */
export class LockFile {
  readonly #sessionPath: string;
  readonly #path: string;
  #nonce: string;

  private constructor(sessionPath: string, nonce: string) {
    this.#sessionPath = sessionPath;
    this.#path = lockPathOf(sessionPath);
    this.#nonce = nonce;
  }

  /** @throws LockedError when a living process, on this computer or another, holds it. */
  static async take(sessionPath: string): Promise<LockFile> {
    const path = lockPathOf(sessionPath);
    for (let attempt = 0; attempt < 5; attempt += 1) {
      const nonce = randomUUID();
      if (await create(path, nonce)) return new LockFile(sessionPath, nonce);
      const found = await readHolder(path);
      if (found === "gone") continue;
      if (found === "half-written") {
        throw new LockedError(`${sessionPath} is just being opened by another program; try again`, null);
      }
      if (found !== "broken" && !(await isGone(found))) throw new LockedError(inUse(sessionPath, path, found), found);
      await moveAside(path, found === "broken" ? null : found.nonce);
    }
    throw new LockedError(`${sessionPath} is being opened by several programs at once; try again`, null);
  }

  /** Takes it once more if it was deleted meanwhile. @throws LockedError when somebody else has it by now. */
  async keep(): Promise<void> {
    const found = await readHolder(this.#path);
    if (typeof found === "object" && found.nonce === this.#nonce) return;
    this.#nonce = (await LockFile.take(this.#sessionPath)).#nonce;
  }

  /** Gives the right back; never removes a lock that someone else holds by now. */
  async release(): Promise<void> {
    const found = await readHolder(this.#path);
    if (typeof found === "object" && found.nonce === this.#nonce) await rm(this.#path, { force: true });
  }
}

const lockPathOf = (sessionPath: string): string => `${sessionPath}.lock`;

/** Makes the lock with its content in one step; false when one is there. */
async function create(path: string, nonce: string): Promise<boolean> {
  const holder: LockHolder = {
    pid: process.pid,
    host: hostname(),
    started: new Date().toISOString(),
    ticks: await startTicks(process.pid),
    nonce,
  };
  const text = `${JSON.stringify(holder)}\n`;
  // Written beside and linked into place, a lock is never seen half written, not even after a power cut in between.
  const fresh = `${path}.${nonce}`;
  try {
    await writeNew(fresh, text);
  } catch (error) {
    throw Object.assign(error as Error, { path });
  }
  try {
    await link(fresh, path);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EEXIST") return false;
    if (!NO_LINKS.has(code ?? "")) throw error;
  } finally {
    await rm(fresh, { force: true });
  }
  // A disk without links, such as a memory stick.
  try {
    await writeNew(path, text);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") return false;
    throw error;
  }
}

async function writeNew(path: string, text: string): Promise<void> {
  const handle = await open(path, "wx");
  try {
    await handle.writeFile(text);
    await handle.sync();
  } catch (error) {
    await unlink(path).catch(() => {});
    throw error;
  } finally {
    await handle.close();
  }
}

async function readHolder(path: string): Promise<LockHolder | "gone" | "broken" | "half-written"> {
  try {
    const parsed = JSON.parse(await readFile(path, "utf8")) as Partial<LockHolder>;
    if (typeof parsed.pid === "number" && typeof parsed.host === "string") {
      return {
        pid: parsed.pid,
        host: parsed.host,
        started: parsed.started ?? "",
        ticks: parsed.ticks ?? null,
        nonce: parsed.nonce ?? "",
      };
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return "gone";
    if (!(error instanceof SyntaxError)) throw error;
  }
  const found = await stat(path).catch(() => null);
  if (found === null) return "gone";
  // A time that is still to come is of a clock that was set back since.
  return Math.abs(Date.now() - found.mtimeMs) > HALF_WRITTEN_MS ? "broken" : "half-written";
}

async function isGone(holder: LockHolder): Promise<boolean> {
  // A process on another computer (a shared folder) cannot be asked; its lock is honoured.
  if (holder.host !== hostname()) return false;
  try {
    process.kill(holder.pid, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ESRCH";
  }
  // Someone is there, but after a restart it may be another process with the same id: one that took the lock before
  // this computer was started is gone, and where the system can say, the start of the process tells the two apart.
  if (holder.ticks === null) return Date.parse(holder.started) < Date.now() - uptime() * 1000 - START_UNSURE_MS;
  const ticks = await startTicks(holder.pid);
  return ticks !== null && ticks !== holder.ticks;
}

async function startTicks(pid: number): Promise<string | null> {
  try {
    const text = await readFile(`/proc/${pid}/stat`, "latin1");
    // The command's name stands in parentheses and may hold blanks; the 22nd field is the 20th after it.
    const ticks = text.slice(text.lastIndexOf(")") + 2).split(" ")[19];
    const boot = await readFile("/proc/sys/kernel/random/boot_id", "latin1");
    return ticks === undefined ? null : `${boot.trim()}/${ticks}`;
  } catch {
    return null;
  }
}

// Two programs may find the same stale lock: the rename lets only one have it, and a fresh lock caught by mistake is
// noticed by its nonce.
async function moveAside(path: string, nonce: string | null): Promise<void> {
  const aside = `${path}.stale-${randomUUID()}`;
  try {
    await rename(path, aside);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return;
    throw error;
  }
  const found = await readHolder(aside);
  if (nonce !== null && typeof found === "object" && found.nonce !== nonce) {
    await rename(aside, path);
    return;
  }
  await rm(aside, { force: true });
}

function inUse(sessionPath: string, lockPath: string, holder: LockHolder): string {
  const where = holder.host === hostname() ? `process ${holder.pid}` : `process ${holder.pid} on ${holder.host}`;
  const what =
    holder.host === hostname()
      ? `close it there first (if no such program runs, as after a power cut, remove ${lockPath})`
      : `close it there, or remove ${lockPath} if that computer is off`;
  return `${sessionPath} is open in another program (${where}, since ${holder.started}); ${what}, or open it for reading only`;
}
