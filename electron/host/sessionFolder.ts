import { lstat, mkdir, open, readdir, readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { Verdict } from "../../core/fit/finding.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { noticeText } from "../../core/session/noticeText.ts";
import type { ReadSession, Recording } from "../../core/session/recording.ts";
import { LibraryIndex, type SessionEntry } from "./libraryIndex.ts";
import { plainFileName } from "./plainFileName.ts";
import { FileExistsError, writeWhole } from "./safeFiles.ts";
import { readSessionInSlices } from "./sessionFile.ts";

const ENDING = ".bwsession";
/** A list is answered within about this time, ms; of what was not read by then only the header is told, and it is read afterwards. */
const PATIENCE_MS = 300;
/** While sessions are read in the background, a better list is told every so often, ms. */
const TELL_MS = 2_000;
/** So many files are asked about at a time. */
const AT_A_TIME = 64;
/** A header is looked for in so many bytes. */
const HEADER_BYTES = 262_144;

/** Thrown for the id of a session that is not in the folder. */
export class NoSuchSession extends Error {
  override readonly name = "NoSuchSession";
}

/** The folder that holds the sessions of this computer, one file each; a session's id is its file's name. */
export class SessionFolder {
  readonly path: string;
  readonly #onRead: () => void;
  readonly #index: LibraryIndex;
  #reading: Promise<void> | null = null;
  #closed = false;

  /** @param onRead called when reading in the background has made a better list */
  constructor(path: string, onRead: () => void = () => {}) {
    this.path = path;
    this.#onRead = onRead;
    this.#index = new LibraryIndex(path);
  }

  /** Makes the folder where it is not there, for its owner alone; one that is there stays as it is. */
  async make(): Promise<void> {
    await mkdir(this.path, { recursive: true, mode: 0o700 });
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
    const plain = plainFileName(stem) || "session";
    for (;;) {
      const id = await this.#free(plain);
      try {
        await writeWhole(join(this.path, id), content, false);
        return id;
      } catch (error) {
        if (!(error instanceof FileExistsError)) throw error;
      }
    }
  }

  /** Every session, the last written first; of the one that is open its recording is asked, not its file. */
  async list(opened: OpenedSession | null = null): Promise<SessionEntry[]> {
    const until = performance.now() + PATIENCE_MS;
    const ids = await this.#ids();
    const entries: SessionEntry[] = [];
    const unread: string[] = [];
    let fresh = false;
    for (let from = 0; from < ids.length; from += AT_A_TIME) {
      const some = ids.slice(from, from + AT_A_TIME);
      const stamps = await Promise.all(some.map((id) => this.#stamp(id)));
      for (const [index, id] of some.entries()) {
        const stamp = stamps[index] ?? null;
        if (stamp === null) continue;
        const known = await this.#index.get(id);
        if (id === opened?.id) entries.push(entryOf(id, stamp.modified, opened.created, opened.recording, null));
        else if (known?.stamp === stamp.text) entries.push(known.entry);
        else if (performance.now() < until) {
          entries.push(await this.#readWhole(id, stamp));
          fresh = true;
        } else {
          entries.push(await quickLook(join(this.path, id), id, stamp.modified));
          unread.push(id);
        }
      }
    }
    if (unread.length > 0) this.#readLater(unread);
    else if (fresh) await this.#index.save(new Set(ids));
    return entries.sort((one, other) => (one.modified < other.modified ? 1 : -1));
  }

  /** Resolves when what is being read in the background is read, and remembered. */
  async settled(): Promise<void> {
    await this.#reading;
  }

  /** Stops reading in the background; what was read is remembered. */
  async close(): Promise<void> {
    this.#closed = true;
    await this.#reading;
  }

  async #ids(): Promise<string[]> {
    const names = await readdir(this.path).catch(() => []);
    return names.filter((name) => name.endsWith(ENDING) && !name.startsWith("."));
  }

  async #stamp(id: string): Promise<Stamp | null> {
    const path = join(this.path, id);
    const found = await stat(path).catch(() => null);
    if (found === null || !found.isFile()) return null;
    const linked = await lstat(path).then(
      (entry) => entry.isSymbolicLink(),
      () => false,
    );
    return {
      text: `${found.size}/${found.mtimeMs}${linked ? "/link" : ""}`,
      modified: found.mtime.toISOString(),
      linked,
    };
  }

  async #readWhole(id: string, stamp: Stamp): Promise<SessionEntry> {
    const read = await readEntry(join(this.path, id), id, stamp.modified);
    const entry = stamp.linked && read.trouble === null ? { ...read, trouble: LINKED } : read;
    await this.#index.set(id, { stamp: stamp.text, entry });
    return entry;
  }

  #readLater(ids: readonly string[]): void {
    this.#reading ??= (async () => {
      let told = performance.now();
      for (const id of ids) {
        if (this.#closed) break;
        const stamp = await this.#stamp(id);
        if (stamp !== null) await this.#readWhole(id, stamp);
        if (performance.now() - told < TELL_MS) continue;
        this.#onRead();
        told = performance.now();
      }
      await this.#index.save(new Set(await this.#ids()));
      this.#reading = null;
      if (!this.#closed) this.#onRead();
    })();
  }

  async #free(stem: string): Promise<string> {
    const taken = new Set((await readdir(this.path)).map(folded));
    for (let number = 1; ; number += 1) {
      const id = `${number === 1 ? stem : `${stem}-${number}`}${ENDING}`;
      if (!taken.has(folded(id))) return id;
    }
  }
}

/** Size and time of a session's file, and whether it stands elsewhere. */
interface Stamp {
  readonly text: string;
  readonly modified: string;
  readonly linked: boolean;
}

const LINKED = "It is a link to a file elsewhere; it opens for reading only.";

/** Two names that some disk would take for one. */
const folded = (name: string): string => name.normalize("NFC").toLowerCase();

/** The session that is open: what it says is known without reading its file. */
export interface OpenedSession {
  readonly id: string;
  readonly created: string;
  readonly recording: Recording;
}

async function readEntry(path: string, id: string, modified: string): Promise<SessionEntry> {
  let read: ReadSession;
  try {
    read = await readSessionInSlices(await readFile(path));
  } catch (error) {
    return unreadable(id, modified, error);
  }
  const first = read.broken[0];
  const trouble = first === undefined ? null : noticeText.sealBroken(first.line);
  return entryOf(id, modified, read.header.created, read.recording, trouble);
}

function entryOf(
  id: string,
  modified: string,
  created: string,
  recording: Recording,
  trouble: string | null,
): SessionEntry {
  const verdicts: Record<Verdict, number> = {
    fits: 0,
    "too tight": 0,
    "too loose": 0,
    undecided: 0,
    "not measured": 0,
  };
  for (const { verdict } of recording.run.findings()) verdicts[verdict] += 1;
  return {
    id,
    title: recording.job.title,
    block: recording.job.block,
    created,
    modified,
    bores: recording.job.walk.length,
    measured: recording.job.walk.length - verdicts["not measured"],
    complete: recording.run.complete,
    verdicts,
    simulated: recording.simulated,
    trouble,
  };
}

/** What the header alone says: what was measured is seen only by reading all. */
async function quickLook(path: string, id: string, modified: string): Promise<SessionEntry> {
  try {
    const header = JSON.parse(await firstLine(path)) as { created: string; job: unknown };
    const job = parseJob(header.job);
    return {
      id,
      title: job.title,
      block: job.block,
      created: header.created,
      modified,
      bores: job.walk.length,
      measured: 0,
      complete: false,
      verdicts: null,
      simulated: false,
      trouble: null,
    };
  } catch (error) {
    return unreadable(id, modified, error);
  }
}

async function firstLine(path: string): Promise<string> {
  const file = await open(path, "r");
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEADER_BYTES), 0, HEADER_BYTES, 0);
    const text = buffer.toString("utf8", 0, bytesRead);
    const end = text.indexOf("\n");
    return end === -1 ? text : text.slice(0, end);
  } finally {
    await file.close();
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
    verdicts: null,
    simulated: false,
    trouble: `It cannot be read: ${why}.`,
  };
}
