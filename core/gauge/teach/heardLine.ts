import { LONGEST_LINE } from "../lineSplitter.ts";
import type { Ms } from "../ms.ts";
import { CUT_OFF, SHOWN_BYTES } from "../shownByte.ts";

const CR = 0x0d;
const LF = 0x0a;

/** A line with every byte of it, its end included. */
export interface HeardLine {
  readonly tMs: Ms;
  readonly bytes: readonly number[];
  /**
   * As the line splitter shows it, without its end. The rest of a run that was cut off, which the splitter drops, has the
   * cut mark in front: no part of a line is taken for a reading here either.
   */
  readonly line: string;
  /** How it ended; `none` where only silence did. */
  readonly end: LineEnd;
}

export type LineEnd = "CR" | "LF" | "CR LF" | "none" | "another";

/**
 * Cuts bytes into lines and keeps what each was made of, for a person to look at. Unlike the splitter of a walk it gives a
 * line out only when the next one begins or when it is told that all is quiet, so that both bytes of an end are seen.
 */
export class LineKeeper {
  #bytes: number[] = [];
  #text = 0;
  #tMs: Ms = 0;
  /** What is begun is the rest of a run that was cut off. */
  #isRest = false;

  /** Bytes of the line that has not been given out yet, its end included. */
  get begun(): Uint8Array {
    return Uint8Array.from(this.#bytes);
  }

  /** Whether what was begun has its line end. */
  get ended(): boolean {
    return this.#text < this.#bytes.length;
  }

  push(tMs: Ms, bytes: Uint8Array): HeardLine[] {
    const lines: HeardLine[] = [];
    for (const byte of bytes) {
      const isEnd = byte === CR || byte === LF;
      const cut = !isEnd && this.#bytes.length === LONGEST_LINE && !this.ended;
      if (cut || (!isEnd && this.ended)) {
        const line = this.#giveOut(cut);
        if (line !== null) lines.push(line);
        this.#isRest = cut;
      }
      if (this.#bytes.length === 0) this.#tMs = tMs;
      this.#bytes.push(byte);
      if (!isEnd) this.#text = this.#bytes.length;
    }
    return lines;
  }

  /** Nothing more is coming for now: what was begun is a line, if it holds anything but line ends. */
  quiet(): HeardLine | null {
    return this.#giveOut(false);
  }

  /** @param cut whether the line goes on beyond what is kept of it. */
  #giveOut(cut: boolean): HeardLine | null {
    const before = this.#isRest ? CUT_OFF : "";
    const bytes = this.#bytes;
    const text = bytes.slice(0, this.#text);
    const end = endOf(bytes.slice(this.#text));
    this.#bytes = [];
    this.#text = 0;
    this.#isRest = false;
    if (text.length === 0) return null;
    const shown = text.map((byte) => SHOWN_BYTES[byte]).join("");
    return { tMs: this.#tMs, bytes, line: `${before}${shown}${cut ? CUT_OFF : ""}`, end };
  }
}

function endOf(bytes: readonly number[]): LineEnd {
  if (bytes.length === 0) return "none";
  if (bytes.every((byte) => byte === CR)) return "CR";
  if (bytes.every((byte) => byte === LF)) return "LF";
  return bytes.length === 2 && bytes[0] === CR ? "CR LF" : "another";
}

/** Bytes as two hexadecimal digits each, with a space between. */
export function inHex(bytes: Iterable<number>): string {
  return [...bytes].map((byte) => byte.toString(16).toUpperCase().padStart(2, "0")).join(" ");
}
