import { createHash, type Hash } from "node:crypto";
import { constants } from "node:fs";
import { type FileHandle, mkdir, open, stat } from "node:fs/promises";
import { dirname } from "node:path";
import type { AppendTarget } from "./appendQueue.ts";
import { LOCK_CHECK_MS, type LockFile } from "./lockFile.ts";
import { WRITE_HERE, writeWhole } from "./safeFiles.ts";

/** Which file it is, whatever its name. */
interface Identity {
  readonly dev: bigint;
  readonly ino: bigint;
}

const identityOf = async (handle: FileHandle): Promise<Identity> => {
  const { dev, ino } = await handle.stat({ bigint: true });
  return { dev, ino };
};

const ANOTHER_FILE = "another file stands in its place";

// Windows numbers a volume with 64 bits when asked by path and with their lower 32 when asked by an open file, in some
// versions of the library below Node (1.49 and 1.50, from memory).
const volume = (dev: bigint): bigint => BigInt.asUintN(32, dev);

const same = (one: Identity, other: Identity): boolean =>
  volume(one.dev) === volume(other.dev) && one.ino === other.ino;

/** What is written goes to the end of the file, wherever that is by then: over nothing that another program wrote. */
const APPEND_HERE = WRITE_HERE | constants.O_APPEND;

/** After these the open file is dead, though its path may live: the disk went away and may be back. */
const DEAD_HANDLE = new Set(["EIO", "EBADF", "ENODEV", "ENXIO", "ESTALE"]);

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException | null)?.code;

const isMissing = (error: unknown): boolean => codeOf(error) === "ENOENT" || codeOf(error) === "ENOTDIR";

/**
 * The session file below the queue. An open file takes writes even when it was deleted or replaced: they succeed and are
 * lost. So nothing counts as synced before the file at the path is still this one, as long as it should be, and ours to
 * write: had another program made it longer or shorter, what was written at its end would show in its length. What was
 * deleted is written again whole from the open file.
 *
 * @param bytes what is in the file at the start
 */
export async function openSessionTarget(path: string, bytes: Uint8Array, lock: LockFile): Promise<AppendTarget> {
  let handle = await open(path, APPEND_HERE);
  let identity = await identityOf(handle);
  let synced = bytes.length;
  const hash = createHash("sha256").update(bytes);
  let batch: Uint8Array = new Uint8Array(0);
  let dead = false;
  let lockedMs = performance.now();

  const take = async (next: FileHandle): Promise<void> => {
    const before = handle;
    handle = next;
    identity = await identityOf(next);
    dead = false;
    await before.close().catch(() => {});
  };

  /** Puts the deleted file there again. @throws Error when the open one cannot be read any more. */
  const writeAgain = async (): Promise<string> => {
    const content = await readStart(handle, synced);
    if (digestOf(hash) !== digestOf(createHash("sha256").update(content))) {
      throw new Error("it was deleted, and what was in it can not be read any more; put it back from a copy");
    }
    await mkdir(dirname(path), { recursive: true });
    await writeWhole(path, content, false);
    await take(await open(path, APPEND_HERE));
    return `The file ${path} had been deleted or moved away; it was written there again, whole.`;
  };

  /** Cuts off what an attempt that failed has left in a file; if there is anything else, that stays as it is. */
  const cutBack = async (file: FileHandle): Promise<void> => {
    const { size } = await file.stat();
    if (size === synced) return;
    const more = await readStart(file, size - synced, synced);
    const ours = size > synced && Buffer.from(batch.subarray(0, more.length)).equals(more);
    if (!ours) throw changedTo(size, synced);
    await file.truncate(synced);
  };

  /**
   * Takes the batch off the end of a file that another program made longer or shorter; says its length then. Between the
   * look and the cut it may add more, which no system lets one rule out; files that are being added to are rare here.
   */
  const takeBack = async (file: FileHandle): Promise<number> => {
    const { size } = await file.stat();
    const before = size - batch.length;
    if (before < 0 || !(await readStart(file, batch.length, before)).equals(batch)) return size;
    await file.truncate(before);
    return before;
  };

  /** Does something in the file at the path that an open end does not allow, if it is still this one. */
  const inPlace = async <T>(change: (file: FileHandle) => Promise<T>): Promise<T> => {
    const file = await open(path, WRITE_HERE);
    try {
      if (!same(await identityOf(file), identity)) throw new Error(ANOTHER_FILE);
      return await change(file);
    } finally {
      await file.close();
    }
  };

  /** Goes on in another file at the path, if it holds what this one does. */
  const moveInto = async (): Promise<void> => {
    const found = await open(path, WRITE_HERE);
    let next: FileHandle;
    try {
      const content = await readStart(found, synced);
      const alike = digestOf(hash) === digestOf(createHash("sha256").update(content));
      if (!alike) throw new Error(`${ANOTHER_FILE}; move that one away, and this is written there again`);
      await cutBack(found);
      next = await openEnd(path, await identityOf(found));
    } finally {
      await found.close();
    }
    await take(next);
  };

  return {
    async write(all, offset, length) {
      try {
        if (offset === 0) {
          if (batch.length > 0) await inPlace(cutBack);
          batch = all;
        }
        return (await handle.write(all, offset, length)).bytesWritten;
      } catch (error) {
        dead ||= DEAD_HANDLE.has(codeOf(error) ?? "");
        throw error;
      }
    },

    async datasync() {
      try {
        await handle.datasync();
      } catch (error) {
        dead ||= DEAD_HANDLE.has(codeOf(error) ?? "");
        throw error;
      }
      const found = await stat(path, { bigint: true }).catch((error: unknown) => {
        throw isMissing(error) ? new Error("it was deleted or moved away; it is being written there again") : error;
      });
      if (!same(found, identity)) throw new Error(ANOTHER_FILE);
      if (found.size !== BigInt(synced + batch.length)) throw changedTo(await inPlace(takeBack), synced);
      if (performance.now() - lockedMs > LOCK_CHECK_MS) {
        await lock.keep();
        lockedMs = performance.now();
      }
      synced += batch.length;
      hash.update(batch);
      batch = new Uint8Array(0);
    },

    async renew() {
      const found = await stat(path, { bigint: true }).catch((error: unknown) => {
        if (isMissing(error)) return null;
        throw error;
      });
      let done: string | null = null;
      if (found === null) done = await writeAgain();
      else if (dead || !same(found, identity)) await moveInto();
      else return null;
      await lock.keep();
      return done;
    },

    close: () => handle.close(),
  };
}

async function readStart(handle: FileHandle, length: number, from = 0): Promise<Buffer> {
  const content = Buffer.alloc(Math.max(0, length));
  let done = 0;
  while (done < content.length) {
    const { bytesRead } = await handle.read(content, done, content.length - done, from + done);
    if (bytesRead === 0) break;
    done += bytesRead;
  }
  return content.subarray(0, done);
}

/** Opens the end of the file at a path, if it is the one that is meant. */
async function openEnd(path: string, meant: Identity): Promise<FileHandle> {
  const end = await open(path, APPEND_HERE);
  if (same(await identityOf(end), meant)) return end;
  await end.close();
  throw new Error(ANOTHER_FILE);
}

const changedTo = (found: number, expected: number): Error =>
  new Error(
    `another program has changed it: found ${found} bytes, expected ${expected}; copy it elsewhere, then leave this program and open the session again`,
  );

const digestOf = (hash: Hash): string => hash.copy().digest("hex");
