/** A key as the listener hears it. */
export interface TypedKey {
  /** `KeyboardEvent.key`. */
  readonly key: string;
  /** Milliseconds on any clock that does not go back. */
  readonly tMs: number;
  /** With Ctrl, Alt or Meta: never from a cable. */
  readonly modified: boolean;
}

/** What is to become of a key. */
export type Heard =
  /** Nothing of ours: let it through. `replay` first goes where it was meant to go. */
  | { readonly do: "pass"; readonly replay: string }
  /** May be a cable's: keep it from the page until `waitMs` have passed, then ask `lapse`. */
  | { readonly do: "hold"; readonly replay: string }
  /** The Return that ended a cable's line: keep it from the page. `line` is null if it was the same line sent twice. */
  | { readonly do: "line"; readonly line: string | null };

/** A cable types a character every few milliseconds; a person never a whole number this fast. */
export const WAIT_MS = 60;
/** The same line once more within this time is the cable sending twice, not the person pressing twice. */
const TWICE_MS = 250;
/** A shorter line is a person's digit and Return. */
const SHORTEST = 3;
const LONGEST = 60;

const FIRST = /^[0-9+\-.,]$/;
const LATER = /^[0-9+\-., a-zA-Z"]$/;

/**
 * Tells the typing of a keyboard-type gauge cable from that of a person: digits that come fast and end with Return.
 * Pure: the caller brings the keys with their times, keeps held keys from the page, and puts `replay` back.
 */
export class TypedLines {
  #held = "";
  #lastMs = Number.NEGATIVE_INFINITY;
  #line: { readonly text: string; readonly tMs: number } | null = null;

  hear({ key, tMs, modified }: TypedKey): Heard {
    const fast = tMs - this.#lastMs <= WAIT_MS;
    // Shift comes as a key of its own before "+" on many keyboards.
    if (key === "Shift" && this.#held !== "") {
      this.#lastMs = tMs;
      return { do: "pass", replay: "" };
    }
    const replay = fast ? "" : this.#take();
    if (key === "Enter" && !modified && this.#held.length >= SHORTEST && /\d/.test(this.#held)) {
      const text = this.#take();
      const twice = this.#line !== null && this.#line.text === text && tMs - this.#line.tMs <= TWICE_MS;
      this.#line = { text, tMs };
      return { do: "line", line: twice ? null : text };
    }
    const wanted = this.#held === "" ? FIRST : LATER;
    if (modified || !wanted.test(key) || this.#held.length >= LONGEST)
      return { do: "pass", replay: replay + this.#take() };
    this.#held += key;
    this.#lastMs = tMs;
    return { do: "hold", replay };
  }

  /** After `WAIT_MS` of quiet: what was held is a person's and goes back where it was typed. */
  lapse(tMs: number): string {
    return tMs - this.#lastMs >= WAIT_MS ? this.#take() : "";
  }

  /** Gives back whatever is held, as when the place is left. */
  release(): string {
    return this.#take();
  }

  #take(): string {
    const held = this.#held;
    this.#held = "";
    return held;
  }
}
