/** A number whose beginning found no line is over after so long without a key, ms. */
const LOST_MS = 1_000;

const IN_A_NUMBER = /^[0-9+\-.,]$/;

/**
 * Keeps the rest of a number from a line that was not there when its beginning was typed: what is left of 0.0012 is
 * another number. Pure: the caller brings the keys with their times and keeps from the page what is `lost`.
 */
export class LostNumber {
  #lostMs = Number.NEGATIVE_INFINITY;

  /**
   * What becomes of a key (`KeyboardEvent.key`) typed at `tMs`, ms on any clock that does not go back: `lost`, `begins`
   * for a character of a number that the line may have, `other` for any other key.
   */
  hear(key: string, tMs: number, hasLine: boolean): "lost" | "begins" | "other" {
    if (!IN_A_NUMBER.test(key)) {
      if (key === "Enter") this.#lostMs = Number.NEGATIVE_INFINITY;
      return "other";
    }
    if (hasLine && tMs - this.#lostMs >= LOST_MS) return "begins";
    this.#lostMs = tMs;
    return "lost";
  }
}
