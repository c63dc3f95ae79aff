import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { sessionEntry } from "../../core/bridge/messages.ts";
import { z } from "../../core/zod.ts";
import { appVersion } from "./appName.ts";
import { writeWhole } from "./safeFiles.ts";

export type SessionEntry = z.infer<typeof sessionEntry>;

const indexed = z.record(z.string(), z.object({ stamp: z.string(), entry: sessionEntry }));
const indexFile = z.object({ app: z.string(), sessions: indexed });

/** What was read of each session, and the size and time of its file then. */
export type Indexed = z.infer<typeof indexed>[string];

/**
 * What the list says of each session, kept in a file beside the sessions so that thousands of them need not be read
 * again at every start. A memory only: an entry counts while its file is as large and as old as it was, and another
 * version of the program reads everything anew.
 */
export class LibraryIndex {
  readonly #path: string;
  #known: Map<string, Indexed> | null = null;

  constructor(folder: string) {
    this.#path = join(folder, ".library.json");
  }

  async get(id: string): Promise<Indexed | null> {
    return (await this.#all()).get(id) ?? null;
  }

  async set(id: string, found: Indexed): Promise<void> {
    (await this.#all()).set(id, found);
  }

  /** Writes what is known of the sessions in `ids`; those that are gone are forgotten. A failure costs time, no more. */
  async save(ids: ReadonlySet<string>): Promise<void> {
    const known = await this.#all();
    for (const id of known.keys()) if (!ids.has(id)) known.delete(id);
    const content = JSON.stringify({ app: appVersion, sessions: Object.fromEntries(known) });
    await writeWhole(this.#path, `${content}\n`, true).catch(() => {});
  }

  async #all(): Promise<Map<string, Indexed>> {
    if (this.#known !== null) return this.#known;
    const read = await readFile(this.#path, "utf8").then(parseIndex, () => null);
    this.#known ??= new Map(read === null || read.app !== appVersion ? [] : Object.entries(read.sessions));
    return this.#known;
  }
}

function parseIndex(text: string): z.infer<typeof indexFile> | null {
  try {
    return indexFile.parse(JSON.parse(text));
  } catch {
    // A damaged memory is no memory.
    return null;
  }
}
