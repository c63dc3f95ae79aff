import { resolve } from "node:path";
import { fileURLToPath } from "node:url";
import type { App } from "electron";

/** Endings that the system opens with this program; see the file associations at packaging. */
const OURS = /\.(bwsession|bwparcel)$/i;
/** Nobody means more files than this at once. */
const MOST = 20;

/**
 * The files among the words a program was started with, as whole paths: what ends as a session or a parcel does, switches
 * and all else left out. On Linux a desktop may give an address instead of a path. Whether a file is there, and what is
 * in it, is for the host to see.
 */
export function filesAmong(words: readonly unknown[], folder: string): string[] {
  const paths = words.flatMap((word) => {
    if (typeof word !== "string" || word.startsWith("-") || !OURS.test(word)) return [];
    if (!word.startsWith("file:")) return [resolve(folder, word)];
    try {
      return [fileURLToPath(word)];
    } catch {
      return [];
    }
  });
  return [...new Set(paths)].slice(0, MOST);
}

/** What one start of the program tells the one that runs already. */
export interface ToldAtStart {
  readonly files: readonly string[];
}

/** What the other start told, which nobody has checked; [] where it makes no sense. */
function toldFiles(told: unknown): string[] {
  const files = (told as Partial<ToldAtStart> | null)?.files;
  return Array.isArray(files) ? filesAmong(files, "/") : [];
}

/**
 * Files that a person opens with this program: by the words of this start, of a later one, or as macOS tells. They wait
 * until there is a page to show them. Must be called before the program is ready, since macOS may tell so early.
 */
export class GivenFiles {
  #waiting: string[];
  #give: ((path: string) => void) | null = null;

  constructor(app: App, files: readonly string[]) {
    this.#waiting = [...files];
    app.on("open-file", (event, path) => {
      event.preventDefault();
      for (const file of filesAmong([path], "/")) this.#take(file);
    });
    app.on("second-instance", (_event, _words, _folder, told) => {
      for (const file of toldFiles(told)) this.#take(file);
    });
  }

  /** From now on `give` gets each file: those that wait at once, in order, then whatever comes. */
  to(give: (path: string) => void): void {
    this.#give = give;
    for (const path of this.#waiting.splice(0)) give(path);
  }

  #take(path: string): void {
    if (this.#give === null) this.#waiting.push(path);
    else this.#give(path);
  }
}
