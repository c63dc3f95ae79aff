import type { Nm } from "../length/nm.ts";

/** Smallest hysteresis in steps of the display, and whatever the display, nm. */
const STEPS = 3;
const SMALLEST_NM = 3000;
/** The noise at rest never asks for more than this, or a loose gauge would lose its small sweeps, nm. */
const LARGEST_REST_NM = 12_000;
/** In ten thousand readings at rest normal noise spans less than so many standard deviations. */
const NOISE_SPAN = 7.5;
/** Share of a sweep's own height: a ripple on a large sweep is no turning point. */
const SWING_SHARE = 0.15;
const BLOCK = 32;

/**
 * How far a reading must come back before it counts as having turned, nm. Our choice: a few steps of the display, more
 * if the gauge is seen to be noisy at rest, and a share of the sweeps while it rocks, so that both a small rocking of 2°
 * (8 µm high) and the tremor on a brisk one are cut rightly.
 */
export class Hysteresis {
  readonly #floorNm: number;
  #baseNm: number;
  #thresholdNm: number;
  #last = Number.NaN;
  #count = 0;
  #squares = 0;
  #noiseBefore = Number.POSITIVE_INFINITY;

  constructor(resolutionNm: Nm) {
    this.#floorNm = Math.max(STEPS * resolutionNm, SMALLEST_NM);
    this.#baseNm = this.#floorNm;
    this.#thresholdNm = this.#floorNm;
  }

  get thresholdNm(): number {
    return this.#thresholdNm;
  }

  /** A sweep closed; `swingNm` is the lower of its two sides. */
  swept(swingNm: number): void {
    this.#thresholdNm = Math.max(this.#baseNm, SWING_SHARE * swingNm);
  }

  /** The rocking is over: a small one may follow. */
  calm(): void {
    this.#thresholdNm = this.#baseNm;
    this.#startBlock();
  }

  /** A reading at rest. The noise is taken from whole blocks, and the quieter of two, so that no movement enters. */
  rest(valueNm: number): void {
    const difference = valueNm - this.#last;
    this.#last = valueNm;
    if (Number.isNaN(difference)) return;
    this.#squares += difference * difference;
    this.#count += 1;
    if (this.#count < BLOCK) return;
    const noise = Math.sqrt(this.#squares / (2 * BLOCK));
    const quieter = Math.min(noise, this.#noiseBefore);
    this.#noiseBefore = noise;
    this.#baseNm = Math.max(this.#floorNm, Math.min(NOISE_SPAN * quieter, LARGEST_REST_NM));
    this.#thresholdNm = this.#baseNm;
    this.#startBlock();
  }

  #startBlock(): void {
    this.#last = Number.NaN;
    this.#count = 0;
    this.#squares = 0;
  }
}
