import { mkdir, readdir, readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { sessionEntry } from "../../core/bridge/messages.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { ReadSession } from "../../core/session/recording.ts";
import type { z } from "../../core/zod.ts";
import { FileExistsError, writeWhole } from "./safeFiles.ts";
import { readSessionInSlices } from "./sessionFile.ts";

export type SessionEntry = z.infer<typeof sessionEntry>;

const ENDING = ".bwsession";
/** A list is answered within about this time, ms; what was not read by then is guessed at and read afterwards. */
const PATIENCE_MS = 300;

/** Thrown for the id of a session that is not in the folder. */
export class NoSuchSession extends Error {
  override readonly name = "NoSuchSession";
}

/** The folder that holds the sessions of this computer, one file each; a session's id is its file's name. */
export class SessionFolder {
  readonly path: string;
  readonly #onRead: () => void;
  readonly #known = new Map<string, { readonly stamp: string; readonly entry: SessionEntry }>();
  #reading: Promise<void> | null = null;

  /** @param onRead called when reading in the background has made a better list */
  constructor(path: string, onRead: () => void = () => {}) {
    this.path = path;
    this.#onRead = onRead;
  }

  async make(): Promise<void> {
    await mkdir(this.path, { recursive: true });
  }

  /** Where the session with this id is. @throws NoSuchSession for anything that is not a plain name in the folder. */
  pathOf(id: string): string {
    if (id !== basename(id) || id.includes("\\") || id.startsWith(".") || !id.endsWith(ENDING)) {
      throw new NoSuchSession(`There is no session "${id}" in ${this.path}.`);
    }
    return join(this.path, id);
  }

  /** A name that no session has yet, made from the day and the job's title. */
  async freeId(title: string, created: Date): Promise<string> {
    const day = created.toISOString().slice(0, 10);
    const words = title
      .normalize("NFKD")
      .replace(/[^A-Za-z0-9]+/g, "-")
      .replace(/^-+|-+$/g, "")
      .slice(0, 60)
      .toLowerCase();
    return this.#free(words === "" ? day : `${day}-${words}`);
  }

  /**
   * Takes the content of a session file from elsewhere, under its own name or one like it.
   * @throws SessionError when it is no session.
   */
  async adopt(name: string, content: string): Promise<string> {
    await readSessionInSlices(Buffer.from(content, "utf8"));
    const stem = basename(name.replaceAll("\\", "/")).replace(/\.bwsession$/i, "");
    const plain = stem.replace(/[^\p{L}\p{N} ._-]+/gu, "-").replace(/^[. ]+|[. ]+$/g, "");
    for (;;) {
      const id = await this.#free(plain === "" ? "session" : plain.slice(0, 100));
      try {
        await writeWhole(join(this.path, id), content, false);
        return id;
      } catch (error) {
        if (!(error instanceof FileExistsError)) throw error;
      }
    }
  }

  /** Every session, the last written first. */
  async list(): Promise<SessionEntry[]> {
    const until = performance.now() + PATIENCE_MS;
    const entries: SessionEntry[] = [];
    const unread: string[] = [];
    for (const id of await this.#ids()) {
      const stamp = await this.#stamp(id);
      if (stamp === null) continue;
      const known = this.#known.get(id);
      if (known?.stamp === stamp.text) entries.push(known.entry);
      else if (performance.now() < until) entries.push(await this.#readWhole(id, stamp));
      else {
        entries.push(await quickLook(join(this.path, id), id, stamp.modified));
        unread.push(id);
      }
    }
    if (unread.length > 0) this.#readLater(unread);
    return entries.sort((one, other) => (one.modified < other.modified ? 1 : -1));
  }

  async #ids(): Promise<string[]> {
    const names = await readdir(this.path).catch(() => []);
    return names.filter((name) => name.endsWith(ENDING) && !name.startsWith("."));
  }

  async #stamp(id: string): Promise<{ readonly text: string; readonly modified: string } | null> {
    const found = await stat(join(this.path, id)).catch(() => null);
    if (found === null || !found.isFile()) return null;
    return { text: `${found.size}/${found.mtimeMs}`, modified: found.mtime.toISOString() };
  }

  async #readWhole(id: string, stamp: { readonly text: string; readonly modified: string }): Promise<SessionEntry> {
    const entry = await entryOf(join(this.path, id), id, stamp.modified);
    this.#known.set(id, { stamp: stamp.text, entry });
    return entry;
  }

  #readLater(ids: readonly string[]): void {
    this.#reading ??= (async () => {
      for (const id of ids) {
        const stamp = await this.#stamp(id);
        if (stamp !== null) await this.#readWhole(id, stamp);
      }
      this.#reading = null;
      this.#onRead();
    })();
  }

  async #free(stem: string): Promise<string> {
    const taken = new Set((await readdir(this.path)).map((name) => name.toLowerCase()));
    for (let number = 1; ; number += 1) {
      const id = `${number === 1 ? stem : `${stem}-${number}`}${ENDING}`;
      if (!taken.has(id.toLowerCase())) return id;
    }
  }
}

async function entryOf(path: string, id: string, modified: string): Promise<SessionEntry> {
  let read: ReadSession;
  try {
    read = await readSessionInSlices(await readFile(path));
  } catch (error) {
    return unreadable(id, modified, error);
  }
  const { recording, header, broken } = read;
  const { bores, complete } = recording.view();
  const first = broken[0];
  return {
    id,
    title: recording.job.title,
    block: recording.job.block,
    created: header.created,
    modified,
    bores: recording.job.walk.length,
    measured: bores.filter((bore) => bore.verdict !== "not measured").length,
    complete,
    trouble: first === undefined ? null : `The seal is broken at line ${first.line}; it opens for reading only.`,
  };
}

/** What the header and the computed records say at a glance; strikes and moved zeros are seen only by reading all. */
async function quickLook(path: string, id: string, modified: string): Promise<SessionEntry> {
  try {
    const text = await readFile(path, "utf8");
    const header = JSON.parse(text.slice(0, text.indexOf("\n"))) as { created: string; job: unknown };
    const job = parseJob(header.job);
    const stations = new Map<string, Set<string>>();
    for (let at = text.indexOf('"what":"station"'); at !== -1; at = text.indexOf('"what":"station"', at + 1)) {
      const line = text.slice(text.lastIndexOf("\n", at) + 1, text.indexOf("\n", at));
      const { bore, place } = JSON.parse(line) as { bore: string; place: { height: string; clock: string } };
      stations.set(bore, (stations.get(bore) ?? new Set()).add(`${place.height} ${place.clock}`));
    }
    const measured = [...stations.values()].filter((places) => places.size === job.stations.length).length;
    return {
      id,
      title: job.title,
      block: job.block,
      created: header.created,
      modified,
      bores: job.walk.length,
      measured,
      complete: false,
      trouble: null,
    };
  } catch (error) {
    return unreadable(id, modified, error);
  }
}

function unreadable(id: string, modified: string, error: unknown): SessionEntry {
  const why = error instanceof Error ? error.message : String(error);
  return {
    id,
    title: id.slice(0, -ENDING.length),
    block: "",
    created: modified,
    modified,
    bores: 0,
    measured: 0,
    complete: false,
    trouble: `It cannot be read: ${why}.`,
  };
}
