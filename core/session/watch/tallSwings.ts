import type { Sample } from "../../sweep/sweep.ts";

/** A swing this high would take a tilt of 16° in the largest bore here (derived: 18 mm·(1/cos θ − 1)). */
const TALL_NM = 700_000;
/** A reading must come back by this much to have turned, nm. Our choice: half of a tall swing. */
const TURN_NM = 350_000;
/** Longest time from one turn to the next in a rocking, ms; handling between places takes longer. */
const LONGEST_MS = 1_200;
/** So many tall swings in a row are a rocking. Our choice. */
const SWINGS = 5;

/** Looks for a rocking whose swings are taller than a hand can make them, as when millimetres are read as inches. */
export class TallSwings {
  #rising = true;
  #extremeNm = Number.NaN;
  #extremeMs = 0;
  #turnedNm = Number.NaN;
  #turnedMs = 0;
  #count = 0;

  get tall(): boolean {
    return this.#count >= SWINGS;
  }

  /** Takes the next reading, wherever the gauge may be. */
  push({ tMs, valueNm }: Sample): void {
    if (Number.isNaN(this.#extremeNm)) this.#extremeNm = valueNm;
    if (this.#rising ? valueNm >= this.#extremeNm : valueNm <= this.#extremeNm) {
      this.#extremeNm = valueNm;
      this.#extremeMs = tMs;
      return;
    }
    if (Math.abs(valueNm - this.#extremeNm) < TURN_NM) return;
    const tall =
      Math.abs(this.#extremeNm - this.#turnedNm) >= TALL_NM && this.#extremeMs - this.#turnedMs <= LONGEST_MS;
    this.#count = tall ? this.#count + 1 : 0;
    this.#turnedNm = this.#extremeNm;
    this.#turnedMs = this.#extremeMs;
    this.#rising = !this.#rising;
    this.#extremeNm = valueNm;
    this.#extremeMs = tMs;
  }
}
