/** So many changes of the display, each to a 0 or a 5, show that it counts in fives (our choice: by chance once in 10⁸). */
const CHANGES = 12;

/**
 * The last digit of a display that counts in fives, as one of 0.00005 in does: once it has shown so, another digit is a
 * damaged one. Two in a row that are neither 0 nor 5 end that for good, as then it does not count in fives.
 */
export class StepOfFive {
  #changes = 0;
  #last: number | null = null;
  #odd = 0;
  #given = false;

  /** Takes the next number as displayed, in units of its last digit, and says whether it is as expected. */
  admits(units: number): boolean {
    if (this.#given) return true;
    if (units % 5 !== 0) {
      this.#odd += 1;
      if (this.#changes < CHANGES || this.#odd > 1) this.#given = true;
      return this.#given;
    }
    this.#odd = 0;
    if (this.#last !== null && this.#last !== units) this.#changes += 1;
    this.#last = units;
    return true;
  }
}
