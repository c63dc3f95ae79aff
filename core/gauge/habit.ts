/**
 * What a gauge always does in its lines, learnt from the lines themselves: the value that two lines agreed on first.
 * One line alone fixes nothing, since it may be the damaged one; and once fixed it never changes, since a change is
 * what damage looks like.
 */
export class Habit<T> {
  readonly #same: (a: T, b: T) => boolean;
  #settled: T | null = null;
  #first: T | null = null;
  #rival: T | null = null;

  constructor(same: (a: T, b: T) => boolean = Object.is) {
    this.#same = same;
  }

  /** What two lines agreed on; null before that. */
  get settled(): T | null {
    return this.#settled;
  }

  /** What is settled, or what the first line had; null before any line. */
  get likely(): T | null {
    return this.#settled ?? this.#first;
  }

  /**
   * Takes what a line has and says whether it is as expected: as settled, or before that as in the first line. A
   * second value seen twice before the first one is outvotes it, and is as expected from then on.
   */
  admits(value: T): boolean {
    if (this.#settled !== null) return this.#same(value, this.#settled);
    if (this.#first === null) {
      this.#first = value;
      return true;
    }
    if (this.#same(value, this.#first) || (this.#rival !== null && this.#same(value, this.#rival))) {
      this.#settled = value;
      return true;
    }
    this.#rival = value;
    return false;
  }
}
