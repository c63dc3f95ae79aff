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
  /** May be a cable's: keep it from the page until `WAIT_MS` have passed, then ask `lapse`. */
  | { readonly do: "hold"; readonly replay: string }
  /**
   * The Return that ended a cable's line: keep it from the page. `line` is null if it was the same line sent twice.
   * `takeBack` is the part of the line that was taken for a person's and is to be removed from where it went.
   */
  | { readonly do: "line"; readonly line: string | null; readonly takeBack: string };

/** A cable types a character every few milliseconds; a person never a whole number this fast. */
export const WAIT_MS = 60;
/** A cable may falter once. What it typed before belongs to its line: a lost sign would be a wrong reading. */
const FALTER_MS = 400;
/** The same line once more within this time is the cable sending twice, not the person pressing twice. */
const TWICE_MS = 250;
/** Fewer fast characters than this before Return are a person's. */
const SHORTEST = 3;
const LONGEST = 60;

const FIRST = /^[0-9+\-.,]$/;
const LATER = /^[0-9+\-., a-zA-Z"]$/;

/**
 * Tells the typing of a keyboard-type gauge cable from that of a person: digits that come fast and end with Return.
 * Pure: the caller brings the keys with their times, keeps held keys from the page, and puts `replay` back.
 */
export class TypedLines {
  /** Characters kept from the page, all fast. */
  #held = "";
  #lastMs = Number.NEGATIVE_INFINITY;
  /** Characters given back to the page just before, with no other key since. */
  #given = "";
  #givenMs = Number.NEGATIVE_INFINITY;
  #line: { readonly text: string; readonly tMs: number } | null = null;

  hear({ key, tMs, modified }: TypedKey): Heard {
    // Shift comes as a key of its own before "+" on many keyboards.
    if (key === "Shift") {
      if (this.#held !== "") this.#lastMs = tMs;
      return { do: "pass", replay: "" };
    }
    const replay = tMs - this.#lastMs <= WAIT_MS ? "" : this.#giveBack();
    if (key === "Enter" && !modified && this.#held.length >= SHORTEST && /\d/.test(this.#held)) {
      const takeBack = this.#given;
      const text = takeBack + this.#held;
      this.#held = "";
      this.#given = "";
      const twice = this.#line !== null && this.#line.text === text && tMs - this.#line.tMs <= TWICE_MS;
      this.#line = { text, tMs };
      return { do: "line", line: twice ? null : text, takeBack };
    }
    const wanted = this.#held === "" ? FIRST : LATER;
    if (modified || !wanted.test(key) || this.#held.length >= LONGEST) {
      const rest = this.#giveBack();
      this.#given = "";
      return { do: "pass", replay: replay + rest };
    }
    if (this.#held === "" && tMs - this.#givenMs > FALTER_MS) this.#given = "";
    this.#held += key;
    this.#lastMs = tMs;
    return { do: "hold", replay };
  }

  /** After `WAIT_MS` of quiet: what was held is a person's and goes back where it was typed. */
  lapse(tMs: number): string {
    return tMs - this.#lastMs >= WAIT_MS ? this.#giveBack() : "";
  }

  /** Gives back whatever is held and begins anew, as when the place is left. */
  release(): string {
    const held = this.#giveBack();
    this.#given = "";
    return held;
  }

  #giveBack(): string {
    const held = this.#held;
    this.#held = "";
    if (held !== "") {
      this.#given = (this.#given + held).slice(-LONGEST);
      this.#givenMs = this.#lastMs;
    }
    return held;
  }
}
