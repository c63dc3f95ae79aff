/**
 * What a gauge does at present in its lines and may rightly change, such as the number of digits before the point: once
 * two lines in a row had the same value, it stands until two lines in a row have another. Damage seldom strikes twice in
 * the same way; a display that has passed from 9.999 to 10.000 sends nothing else from then on.
 */
export class Steady<T> {
  #value: T | null = null;
  #stands = false;
  #rival: T | null = null;

  /** What stands, or what the last line had; null before any line. */
  get value(): T | null {
    return this.#value;
  }

  /** Takes what a line has and says whether it is as expected. */
  admits(value: T): boolean {
    if (this.#stands && value !== this.#value && value !== this.#rival) {
      this.#rival = value;
      return false;
    }
    this.#stands ||= value === this.#value;
    this.#value = value;
    this.#rival = null;
    return true;
  }

  /** A line came that has no such value: what comes next is not in a row with what came before. */
  pass(): void {
    this.#rival = null;
  }
}
