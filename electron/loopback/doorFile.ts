import { mkdtemp, open, rm, rmdir } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";

/** A page on disk that only this user can read, and that leads the browser to the address with the code in it. */
export interface DoorFile {
  /** Its address, for the system to open. */
  readonly address: string;
  /** Takes it away; the code in it is then good for nothing more. Never throws. */
  remove(): Promise<void>;
}

const PRIVATE = 0o077;

/**
 * Makes the file: in the program's own folder, which browsers that are kept from the rest of the disk can mostly read,
 * or in a fresh temporary one. Null where neither disk can keep a file from other users.
 */
export async function makeDoorFile(folder: string, address: string): Promise<DoorFile | null> {
  const port = new URL(address).port;
  const own = join(folder, `open-borewright-${port}.html`);
  // Left by a program that was killed; the code in it died with that.
  await rm(own, { force: true }).catch(() => {});
  if (await writePrivate(own, address)) return { address: pathToFileURL(own).href, remove: () => remove(own) };
  const temporary = await mkdtemp(join(tmpdir(), "borewright-")).catch(() => null);
  if (temporary === null) return null;
  const path = join(temporary, "open.html");
  const removeBoth = async () => {
    await remove(path);
    await rmdir(dirname(path)).catch(() => {});
  };
  if (await writePrivate(path, address)) return { address: pathToFileURL(path).href, remove: removeBoth };
  await removeBoth();
  return null;
}

const remove = (path: string) => rm(path, { force: true }).catch(() => {});

/** False, and nothing there, where the file cannot be made or others could read it. */
async function writePrivate(path: string, address: string): Promise<boolean> {
  try {
    // Empty until it is known who can read it.
    const handle = await open(path, "wx", 0o600);
    try {
      const { mode } = await handle.stat();
      if (process.platform !== "win32" && (mode & PRIVATE) !== 0) throw new Error("others can read it");
      await handle.writeFile(pageTo(address));
    } catch (error) {
      await remove(path);
      throw error;
    } finally {
      await handle.close();
    }
    return true;
  } catch {
    return false;
  }
}

const pageTo = (address: string) => `<!doctype html>
<html lang="en">
  <head>
    <meta charset="utf-8">
    <meta name="referrer" content="no-referrer">
    <meta http-equiv="refresh" content="0; url=${address}">
    <title>Borewright</title>
  </head>
  <body>
    <p><a href="${address}">Open Borewright</a></p>
  </body>
</html>
`;
