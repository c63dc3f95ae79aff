import type { Sample } from "../../sweep/sweep.ts";

/** A contact that drops into a hole drops at least so far, nm: a 1.2 mm hole under a 3 mm contact (derived). Our choice. */
const DEEP_NM = 60_000;
/** Longest time over a hole, ms. Our choice. */
const LONGEST_MS = 400;
/** Within a hole, before it and after it the reading moves by no more than this part of the drop. Our choice. */
const CALM_PART = 0.25;
/** The two sides of the hole are of one height within this part of it. */
const EVEN_PART = 0.35;
const MOST = 64;

/**
 * Looks for a contact that dropped into an oil hole and came out again, the shape that no rocking can make: a sharp step
 * up, a level stretch, a step down as sharp, with calm on both sides. A rocking that the display hardly follows has
 * sharp steps too, but never calm ones beside them. The cutter sees only jumps that are faster than any rocking; a slow
 * display shows a hole as a step that a brisk hand could make.
 */
export class ContactHole {
  /** The latest readings from the one before the step on; empty while there was no step. */
  #since: Sample[] = [];
  #before: Sample | null = null;
  #last: Sample | null = null;

  /** Takes the next reading inside the working range; true if it completes the shape. */
  push(sample: Sample): boolean {
    const found = this.#since.length > 0 && this.#goOn(sample);
    if (this.#since.length === 0 && this.#last !== null && this.#before !== null) {
      const step = sample.valueNm - this.#last.valueNm;
      const earlier = Math.abs(this.#last.valueNm - this.#before.valueNm);
      if (step >= DEEP_NM && earlier <= CALM_PART * step) this.#since = [this.#last, sample];
    }
    this.#before = this.#last;
    this.#last = sample;
    return found;
  }

  /** The stream is broken off, or the gauge is elsewhere. */
  forget(): void {
    this.#since = [];
    this.#before = null;
    this.#last = null;
  }

  #goOn(sample: Sample): boolean {
    const edge = this.#since[0] as Sample;
    const top = this.#since[1] as Sample;
    const last = this.#since.at(-1) as Sample;
    const height = top.valueNm - edge.valueNm;
    const change = sample.valueNm - last.valueNm;
    const calm = Math.abs(change) <= CALM_PART * height;
    const fell = last.valueNm < edge.valueNm + height / 2;
    if (fell) {
      this.#since = [];
      return calm;
    }
    const down = -change;
    if (Math.abs(down - height) <= EVEN_PART * height || calm) this.#since.push(sample);
    else this.#since = [];
    if (sample.tMs - edge.tMs > LONGEST_MS || this.#since.length > MOST) this.#since = [];
    return false;
  }
}
