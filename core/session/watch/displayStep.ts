/**
 * So many changes of a display that only ever makes large steps show that it can make no smaller ones (our choice): few
 * for single readings, many for a stream, which runs through a dozen large steps whenever the gauge goes in or out.
 */
const CHANGES = { single: 8, stream: 80 } as const;

/** The smallest step that a display has been seen to make. */
export class DisplayStep {
  readonly #needed: number;
  #last = Number.NaN;
  #smallestNm = Number.POSITIVE_INFINITY;
  #changes = 0;

  constructor(streams: boolean) {
    this.#needed = streams ? CHANGES.stream : CHANGES.single;
  }

  /** Nm, positive; null before it has changed often enough to tell. */
  get smallestNm(): number | null {
    return this.#changes < this.#needed ? null : this.#smallestNm;
  }

  /** Takes the next value shown, nm; true if `smallestNm` is another for it. */
  push(displayNm: number): boolean {
    const step = Math.abs(displayNm - this.#last);
    this.#last = displayNm;
    // Neither the first value nor one that repeats is a step.
    if (!(step > 0)) return false;
    const before = this.smallestNm;
    this.#changes = Math.min(this.#needed, this.#changes + 1);
    this.#smallestNm = Math.min(this.#smallestNm, step);
    return this.smallestNm !== before;
  }
}
