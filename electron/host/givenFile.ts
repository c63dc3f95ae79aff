import { constants } from "node:fs";
import { open, realpath } from "node:fs/promises";
import { basename, dirname, isAbsolute } from "node:path";
import type { Given } from "../../core/bridge/messages.ts";
import { diskSentence } from "./diskSentence.ts";
import { LARGEST_PARCEL } from "./parcel/zipLayout.ts";
import { refusalOf } from "./refusal.ts";
import type { SessionFolder } from "./sessionFolder.ts";

/** A session file larger than this is not taken in, bytes; the same as over the bridge. */
const LARGEST_SESSION = 200_000_000;

const READ_AT_ONCE = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);

class NotTaken extends Error {
  override readonly name = "NotTaken";
}

/**
 * Takes a file that a person opened with this program, by its path: a session of the folder by its name there, one from
 * elsewhere as a copy in the folder, and a parcel's bytes for its checks. The path comes from outside: nothing but an
 * ordinary file of a size that makes sense is read, and only the page's own methods do anything with what is in it.
 * Never throws.
 */
export async function takeGivenFile(path: string, folder: SessionFolder): Promise<Given> {
  const name = basename(path);
  try {
    if (!isAbsolute(path) || path.includes("\0")) throw new NotTaken("expected the whole path of a file");
    if (/\.bwparcel$/i.test(name)) {
      return { kind: "parcel", name, content: (await readWithin(path, LARGEST_PARCEL)).toString("base64") };
    }
    if (!/\.bwsession$/i.test(name)) throw new NotTaken("expected a session (.bwsession) or a parcel (.bwparcel)");
    if ((await realpath(dirname(path))) === (await realpath(folder.path)) && isId(folder, name)) {
      await readWithin(path, LARGEST_SESSION);
      return { kind: "session", name, id: name };
    }
    const content = (await readWithin(path, LARGEST_SESSION)).toString("utf8");
    return { kind: "session", name, id: await folder.adopt(name, content) };
  } catch (error) {
    return { kind: "refused", name, why: `${path}: ${whyNot(error)}` };
  }
}

function isId(folder: SessionFolder, name: string): boolean {
  try {
    folder.pathOf(name);
    return true;
  } catch {
    return false;
  }
}

async function readWithin(path: string, largest: number): Promise<Buffer> {
  // Not waiting for the other end, should it be a pipe.
  const handle = await open(path, READ_AT_ONCE);
  try {
    const found = await handle.stat();
    if (!found.isFile()) throw new NotTaken("it is no ordinary file");
    if (found.size > largest) throw new NotTaken(`${found.size} bytes; expected at most ${largest}`);
    return await handle.readFile();
  } finally {
    await handle.close();
  }
}

function whyNot(error: unknown): string {
  if (error instanceof NotTaken) return `${error.message}; nothing was opened.`;
  const { code } = error as NodeJS.ErrnoException;
  if (code === "ENOENT") return "there is no such file any more.";
  if (code !== undefined) return `${diskSentence(error)}.`;
  const refusal = refusalOf(error);
  return refusal.ok ? "" : refusal.message;
}
