/** Where a command reads and writes; the process's own streams, or a test's. */
export interface Io {
  /** Writes to standard output; what is written is whole lines. */
  out(text: string): void;
  /** Writes to standard error. */
  err(text: string): void;
  /** Lines that an operator types while a command runs; ends when there are no more. */
  readonly typed: AsyncIterable<string>;
  /** Aborted when the user asks to stop (Ctrl-C). Only a command that looks at it is asked; any other is ended. */
  readonly stop: AbortSignal;
  /** Aborted when the user asks a second time: what is waited for is given up. */
  readonly leave: AbortSignal;
}

/** Ways a command ends, as the program's exit status. */
export const EXIT = {
  done: 0,
  /** The program itself failed, or what was measured could not be saved. */
  failed: 1,
  wrongUse: 2,
  incomplete: 3,
  differs: 4,
  sealBroken: 5,
} as const;

/** Wrong use or a bad file: one line that says what, where and what was expected. Ends the program with 2. */
export class WrongUse extends Error {
  override readonly name = "WrongUse";
}
