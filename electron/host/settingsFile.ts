import { readFile, rename } from "node:fs/promises";
import { join } from "node:path";
import { z } from "../../core/zod.ts";
import { writeWhole } from "./safeFiles.ts";

const record = z.record(z.string(), z.unknown());

/**
 * The settings of this bench in a file beside the sessions, so that they outlast the window: a browser keeps what a
 * page stores for one address only, and the loopback shell has another at every start. What they mean is the page's.
 */
export class SettingsFile {
  readonly #path: string;
  readonly #asidePath: string;
  #writing: Promise<void> = Promise.resolve();

  constructor(folder: string) {
    this.#path = join(folder, "settings.json");
    this.#asidePath = join(folder, "settings.unreadable.json");
  }

  /** Null where there are none; a file that is not to be read is put aside under another name. */
  async read(): Promise<Record<string, unknown> | null> {
    await this.#writing;
    const text = await readFile(this.#path, "utf8").catch(() => null);
    if (text === null) return null;
    try {
      return record.parse(JSON.parse(text));
    } catch {
      await rename(this.#path, this.#asidePath).catch(() => {});
      return null;
    }
  }

  /** Writes them whole, one after the other. @throws Error when the disk refuses. */
  keep(settings: Record<string, unknown>): Promise<void> {
    const write = () => writeWhole(this.#path, `${JSON.stringify(settings, null, 2)}\n`, true);
    const mine = this.#writing.then(write);
    this.#writing = mine.catch(() => {});
    return mine;
  }
}
