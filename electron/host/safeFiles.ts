import { randomUUID } from "node:crypto";
import { constants } from "node:fs";
import { link, open, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";

/** Opens for reading and writing, never through a link put there meanwhile; Windows has no such choice. */
export const WRITE_HERE = constants.O_RDWR | (constants.O_NOFOLLOW ?? 0);

/** What systems say of a disk without hard links, such as a memory stick (FAT, exFAT); Windows calls it EISDIR there. */
export const NO_LINKS: ReadonlySet<string> = new Set([
  "EPERM",
  "ENOTSUP",
  "EOPNOTSUPP",
  "ENOSYS",
  "EINVAL",
  "EMLINK",
  "EISDIR",
]);

/** Thrown when a file is already there and may not be overwritten. */
export class FileExistsError extends Error {
  override readonly name = "FileExistsError";
}

/**
 * Writes a whole file so that it is there completely or not at all, also after a power cut: a temporary in the same
 * folder, synced, then renamed, then the folder synced. `mode` are the permissions of a new file, less the user's mask.
 * @throws FileExistsError when the file is there and `overwrite` is false.
 */
export async function writeWhole(
  path: string,
  content: string | Uint8Array,
  overwrite: boolean,
  mode = 0o666,
): Promise<void> {
  // Not made of the file's own name, which may already be as long as a name can be.
  const temporary = join(dirname(path), `.borewright-${randomUUID()}.tmp`);
  const handle = await open(temporary, "wx", mode).catch((error: unknown) => {
    throw Object.assign(error as Error, { path });
  });
  try {
    await handle.writeFile(content);
    await handle.sync();
  } catch (error) {
    await handle.close();
    await rm(temporary, { force: true });
    throw Object.assign(error as Error, { path });
  }
  await handle.close();
  try {
    if (overwrite) await rename(temporary, path);
    else await linkNew(temporary, path);
  } finally {
    await rm(temporary, { force: true });
  }
  await syncFolder(dirname(path));
}

// A hard link fails where the name is taken, which a rename does not; disks without hard links (FAT) get the name by
// an exclusive creation first.
async function linkNew(temporary: string, path: string): Promise<void> {
  try {
    await link(temporary, path);
  } catch (error) {
    const { code = "" } = error as NodeJS.ErrnoException;
    if (code === "EEXIST") throw new FileExistsError(`${path} is already there`);
    if (!NO_LINKS.has(code)) throw error;
    try {
      await (await open(path, "wx")).close();
    } catch (taken) {
      if ((taken as NodeJS.ErrnoException).code === "EEXIST") throw new FileExistsError(`${path} is already there`);
      throw taken;
    }
    try {
      await rename(temporary, path);
    } catch (failed) {
      await rm(path, { force: true });
      throw failed;
    }
  }
}

/** Makes a new name in a folder survive a power cut. Windows cannot sync a folder and needs no such thing. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === "win32") return;
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
