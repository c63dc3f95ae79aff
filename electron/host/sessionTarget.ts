import { createHash, type Hash } from "node:crypto";
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

const same = (one: Identity, other: Identity): boolean => one.dev === other.dev && one.ino === other.ino;

/** After these the open file is dead, though its path may live: the disk went away and may be back. */
const DEAD_HANDLE = new Set(["EIO", "EBADF", "ENODEV", "ENXIO", "ESTALE"]);

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException | null)?.code;

/**
 * The session file below the queue. An open file takes writes even when it was deleted or replaced: they succeed and are
 * lost. So nothing counts as synced before the file at the path is still this one, as long as it should be, and ours to
 * write. What was deleted is written again whole from the open file.
 *
 * @param bytes what is in the file at the start
 */
export async function openSessionTarget(path: string, bytes: Uint8Array, lock: LockFile): Promise<AppendTarget> {
  let handle = await open(path, WRITE_HERE);
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
    await take(await open(path, WRITE_HERE));
    return `The file ${path} had been deleted or moved away; it was written there again, whole.`;
  };

  /** Goes on in another file at the path, if it holds what this one does. */
  const moveInto = async (next: FileHandle): Promise<string | null> => {
    const content = await readStart(next, synced);
    const { size } = await next.stat();
    const more = await readStart(next, size - synced, synced);
    const ours = Buffer.from(batch.subarray(0, more.length)).equals(more);
    if (digestOf(hash) !== digestOf(createHash("sha256").update(content)) || !ours) {
      throw new Error("another file stands in its place; move that one away, and this is written there again");
    }
    await next.truncate(synced);
    await take(next);
    return null;
  };

  return {
    async write(all, offset, length, position) {
      try {
        if (offset === 0) {
          // What an attempt that failed may have left is ours to write over, and nothing else is; nor may there be a gap.
          const { size } = await handle.stat();
          if (size < synced || size > synced + batch.length) throw changedTo(size, synced);
          batch = all;
        }
        return (await handle.write(all, offset, length, position)).bytesWritten;
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
      const found = await stat(path, { bigint: true });
      if (!same(found, identity)) throw new Error("another file stands in its place");
      if (found.size !== BigInt(synced + batch.length)) throw changedTo(found.size, synced + batch.length);
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
        if (codeOf(error) === "ENOENT" || codeOf(error) === "ENOTDIR") return null;
        throw error;
      });
      let done: string | null = null;
      if (found === null) done = await writeAgain();
      else if (dead || !same(found, identity)) {
        const next = await open(path, WRITE_HERE);
        try {
          done = await moveInto(next);
        } catch (error) {
          await next.close();
          throw error;
        }
      } else return null;
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

const changedTo = (found: number | bigint, expected: number): Error =>
  new Error(
    `another program has changed it: found ${found} bytes, expected ${expected}; copy it elsewhere, then leave this program and open the session again`,
  );

const digestOf = (hash: Hash): string => hash.copy().digest("hex");
