import type { Ms } from "../../gauge/ms.ts";
import type { Sample } from "../../sweep/sweep.ts";

/** The contract's figure for a stream that repeats one value while it should move. */
const FROZEN_MS: Ms = 3_000;
/** A swing this high shows that the rocking has begun, nm. Our choice: above any noise, below the smallest rocking. */
const SWING_NM = 5_000;

/**
 * Looks for a stream that repeats one value at an open station after the rocking has begun there. The cutter calls a
 * display frozen where it broke off a movement; one that froze at the end of a swing looks like a hand at rest, and only
 * that the station is still open says that it should move.
 */
export class RepeatedValue {
  #highestNm = Number.NEGATIVE_INFINITY;
  /** Lowest since the highest. */
  #lowestNm = Number.POSITIVE_INFINITY;
  #rocked = false;
  #sinceMs: Ms = 0;
  #lastNm = Number.NaN;
  #said = false;

  /** Takes the next reading inside the working range; true once for each run that is too long. */
  push({ tMs, valueNm }: Sample): boolean {
    if (valueNm === this.#lastNm) {
      if (this.#said || !this.#rocked || tMs - this.#sinceMs < FROZEN_MS) return false;
      this.#said = true;
      return true;
    }
    this.#lastNm = valueNm;
    this.#sinceMs = tMs;
    this.#said = false;
    if (this.#rocked) return false;
    if (valueNm >= this.#highestNm) {
      this.#highestNm = valueNm;
      this.#lowestNm = valueNm;
    }
    this.#lowestNm = Math.min(this.#lowestNm, valueNm);
    this.#rocked = this.#highestNm - this.#lowestNm >= SWING_NM && valueNm - this.#lowestNm >= SWING_NM;
    return false;
  }

  /** The station is closed, the stream is broken off, or the gauge is elsewhere. */
  forget(): void {
    this.#highestNm = Number.NEGATIVE_INFINITY;
    this.#lowestNm = Number.POSITIVE_INFINITY;
    this.#rocked = false;
    this.#said = false;
    this.#lastNm = Number.NaN;
  }
}
