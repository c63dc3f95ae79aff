import { CUT_OFF, SHOWN_BYTES } from "./shownByte.ts";

const CR = 0x0d;
const LF = 0x0a;

/** Longest line passed on whole, bytes. No gauge line comes near it; a run without a line end soon does. */
export const LONGEST_LINE = 256;

/**
 * Cuts the bytes of a gauge into lines. Bytes come in any pieces: the lines do not depend on where they were cut.
 *
 * - CR, LF and CR LF end a line (no standard fixes a terminator); empty lines are dropped, which also makes one line
 *   end of a CR and an LF that came in different pieces.
 * - A run longer than the cap becomes one line cut off at the cap, given out at once with "…" at its end; the rest of
 *   the run is dropped up to the next line end. `LineReader` refuses any line with that mark, so half of a number is
 *   never taken for a number.
 * - Bytes are shown as latin1, those that would be invisible by `SHOWN_BYTES`; nothing is repaired.
 *
 * It owns no clock: the caller says when the line was silent for long enough, with `flush`. A new opening of a port
 * needs a new splitter, or half a line from before would be joined to what comes after.
 */
export class LineSplitter {
  readonly #longest: number;
  #text = "";
  #bytes = 0;
  /** Inside a run that was already given out as cut off. */
  #skipping = false;

  /** @param longest cap in bytes, at least 1. */
  constructor(longest = LONGEST_LINE) {
    if (!Number.isInteger(longest) || longest < 1) throw new RangeError(`not a length of a line: ${longest}`);
    this.#longest = longest;
  }

  /** Bytes of a begun line that were not given out yet; 0 when none is begun. */
  get pending(): number {
    return this.#bytes;
  }

  /** Takes the next bytes; returns the lines they completed, without their ends, oldest first. */
  push(bytes: Uint8Array): string[] {
    const lines: string[] = [];
    for (const byte of bytes) {
      if (byte === CR || byte === LF) {
        if (this.#bytes > 0) lines.push(this.#giveOut());
        this.#skipping = false;
      } else if (!this.#skipping) {
        if (this.#bytes === this.#longest) {
          lines.push(this.#giveOut() + CUT_OFF);
          this.#skipping = true;
        } else {
          this.#text += SHOWN_BYTES[byte];
          this.#bytes += 1;
        }
      }
    }
    return lines;
  }

  /**
   * The begun line, ended by silence, or null if none is begun. Only for the last line before a long silence or the
   * end: called within a line it makes two of it. What comes next begins a new line.
   */
  flush(): string | null {
    this.#skipping = false;
    return this.#bytes > 0 ? this.#giveOut() : null;
  }

  #giveOut(): string {
    const line = this.#text;
    this.#text = "";
    this.#bytes = 0;
    return line;
  }
}
