import type { Page } from "@playwright/test";
import type * as Electron from "electron";

/** The window shell under test, whichever runs it: a double of the electron module or the Electron runtime. */
export interface WindowShell {
  /** What it runs on, for the names of the specs. */
  readonly kind: string;
  /** Runs work beside the main file, with the electron module. It crosses to another process: it may use nothing else. */
  evaluate<R, A>(work: (electron: typeof Electron, argument: A) => R | Promise<R>, argument: A): Promise<R>;
  /** The window with its page loaded. */
  firstWindow(): Promise<Page>;
  /** Every page there is now. */
  windows(): Promise<Page[]>;
  /** Settles when the program has ended. */
  readonly ended: Promise<void>;
  /** Quits as a person would, and lets go of everything. */
  close(): Promise<void>;
}
