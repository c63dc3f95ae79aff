import type { Ms } from "../../gauge/ms.ts";

/** Below the range for so long is no handling on the way in. Our choice. */
const LASTS_MS: Ms = 500;

/**
 * Watches whether a stream stands below the working range, as when the plunger sticks at the inner end of its travel
 * while the gauge should be in a bore. The other end is where every gauge in the air stands, and says nothing.
 */
export class TravelEnd {
  #sinceMs: Ms | null = null;
  #below = false;

  get below(): boolean {
    return this.#below;
  }

  /** Takes the next reading (nm); `nearNm` is the smallest that a bore can give, null while that is not known. */
  push(tMs: Ms, valueNm: number, nearNm: number | null): void {
    if (nearNm === null || valueNm >= nearNm) {
      this.#sinceMs = null;
      this.#below = false;
      return;
    }
    this.#sinceMs ??= tMs;
    if (tMs - this.#sinceMs >= LASTS_MS) this.#below = true;
  }
}
