import type { Sample } from "../../sweep/sweep.ts";

/** A contact that drops into a hole drops at least so far, nm: a 1.2 mm hole under a 3 mm contact (derived). Our choice. */
const DEEP_NM = 60_000;
/** Longest time over a hole, ms, and most readings in it. Our choice. */
const LONGEST_MS = 400;
const MOST = 48;
/** Without the hole the reading bends from one reading to the next by no more than this part of its depth. Our choice. */
const SMOOTH_PART = 0.25;
/** Going in and coming out the reading steps by one height, but for this part of it. Our choice. */
const EVEN_PART = 0.25;

/**
 * Looks for a contact that dropped into an oil hole and came out again: a stretch of readings stands above its
 * neighbours by one height, and with that height taken off the movement goes on through it smoothly. No rocking looks
 * so, however brisk: what is left of a swing whose top is cut off is not smooth (derived here for sin² passes of three
 * readings and more). The cutter sees only jumps faster than any rocking; to a slow display a hole is slower than that.
 */
export class ContactHole {
  #recent: Sample[] = [];

  /** Takes the next reading inside the working range; true if it completes the shape. */
  push(sample: Sample): boolean {
    this.#recent.push(sample);
    if (this.#recent.length > 2 * MOST) this.#recent = this.#recent.slice(-MOST - 4);
    const end = this.#recent.length - 2;
    const down = this.#valueAt(end - 1) - this.#valueAt(end);
    // Coming out of the hole, whatever else moves.
    if (!(down >= DEEP_NM / 2)) return false;
    for (let start = end - 1; start >= 2 && end - start <= MOST; start -= 1) {
      if ((this.#recent[end] as Sample).tMs - (this.#recent[start] as Sample).tMs > LONGEST_MS) return false;
      if (!this.#isHole(start, end)) continue;
      this.forget();
      return true;
    }
    return false;
  }

  /** The stream is broken off, or the gauge is elsewhere. */
  forget(): void {
    this.#recent = [];
  }

  /** Whether readings from `start` up to `end` (excluded) lie in a hole. Two on either side say how the gauge moves. */
  #isHole(start: number, end: number): boolean {
    const up = this.#valueAt(start) - this.#valueAt(start - 1) - (this.#valueAt(start - 1) - this.#valueAt(start - 2));
    const down = this.#valueAt(end - 1) - this.#valueAt(end) + (this.#valueAt(end + 1) - this.#valueAt(end));
    const height = (up + down) / 2;
    if (height < DEEP_NM || Math.abs(up - down) > EVEN_PART * height) return false;
    const without = (index: number) => this.#valueAt(index) - (index >= start && index < end ? height : 0);
    for (let index = start - 1; index <= end; index += 1) {
      const bend = without(index + 1) - 2 * without(index) + without(index - 1);
      if (Math.abs(bend) > SMOOTH_PART * height) return false;
    }
    return true;
  }

  #valueAt(index: number): number {
    return this.#recent[index]?.valueNm ?? Number.NaN;
  }
}
