import type { Nm } from "../length/nm.ts";

/** Smallest hysteresis in steps of the display, and whatever the display, nm. */
const STEPS = 3;
const SMALLEST_NM = 3000;
/** What looks like more noise than this, RMS, is movement that the display is too slow to follow, nm. */
const LARGEST_NOISE_NM = 1800;
/**
 * Within the time of a pass normal noise hardly ever spans so many standard deviations. Derived here: two readings differ
 * by more than 7σ with probability 7.4·10⁻⁷ (4.95 of their √2·σ), so any two of fifty in less than one pass of 1000.
 */
const NOISE_SPAN = 7;
/** Share of a sweep's own height: a ripple on a large sweep is no turning point. Our choice, by the simulated bench. */
const SWING_SHARE = 0.15;
/** Noise is looked for in blocks of so many readings. */
const BLOCK = 32;
/**
 * Readings without memory have second differences of three times the variance of their first ones (6σ² and 2σ²);
 * movement has fewer, 1.4 times for a rocking at 1 Hz read ten times a second.
 */
const MEMORYLESS = 2.3;

/**
 * How far a reading must come back before it counts as having turned, nm. Our choice: a few steps of the display, more
 * if the gauge is seen to be noisy, and a share of the sweeps while it rocks, so that both a small rocking of 2° (8 µm
 * high) and the tremor on a brisk one are cut rightly.
 */
export class Hysteresis {
  readonly #floorNm: number;
  #baseNm: number;
  #thresholdNm: number;
  #last = Number.NaN;
  #change = Number.NaN;
  #count = 0;
  #first = 0;
  #second = 0;

  constructor(resolutionNm: Nm) {
    this.#floorNm = Math.max(STEPS * resolutionNm, SMALLEST_NM);
    this.#baseNm = this.#floorNm;
    this.#thresholdNm = this.#floorNm;
  }

  get thresholdNm(): number {
    return this.#thresholdNm;
  }

  /** A sweep closed; `swingNm` is the height of its lower side. */
  swept(swingNm: number): void {
    this.#thresholdNm = Math.max(this.#baseNm, SWING_SHARE * swingNm);
  }

  /** The rocking is over: a small one may follow. */
  calm(): void {
    this.#thresholdNm = this.#baseNm;
  }

  /** The next reading is no neighbour of the last. */
  apart(): void {
    this.#last = Number.NaN;
    this.#change = Number.NaN;
    this.#count = 0;
    this.#first = 0;
    this.#second = 0;
  }

  /** A reading inside the bore, in order. A block of them that moves like noise alone says how noisy the gauge is. */
  watch(valueNm: number): void {
    const change = valueNm - this.#last;
    const bend = change - this.#change;
    this.#last = valueNm;
    this.#change = change;
    if (Number.isNaN(bend)) return;
    this.#first += change * change;
    this.#second += bend * bend;
    this.#count += 1;
    if (this.#count < BLOCK) return;
    const noise = Math.sqrt(this.#first / (2 * BLOCK));
    if (this.#second >= MEMORYLESS * this.#first && noise <= LARGEST_NOISE_NM) {
      const before = this.#baseNm;
      this.#baseNm = Math.max(this.#floorNm, NOISE_SPAN * noise);
      if (this.#thresholdNm === before || this.#thresholdNm < this.#baseNm) this.#thresholdNm = this.#baseNm;
    }
    this.#count = 0;
    this.#first = 0;
    this.#second = 0;
  }
}
