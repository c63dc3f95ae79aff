import type { Ms } from "../gauge/ms.ts";

/**
 * Fastest change of reading that rocking can make, nm per ms.
 * Derived here: a gauge tilted by θ in a bore D, contact radius R, reads K/cos θ + 2R with K = D − 2R. With
 * θ = A·sin ωt the reading changes by K·sin θ/cos²θ·θ', at most about K·A²·ω/2 (at θ = A/√2). For the largest bore
 * here (K = 20 mm), 13° and 1.15 Hz that is 3.7 µm per ms.
 */
const FASTEST_NM_PER_MS = 4000;
/** Largest change that rocking can make in any time, nm: K·(1/cos θ − 1) for K = 20 mm and 14°. */
export const FARTHEST_NM = 600_000;

/** A change this small is never called a jump, nm. */
const SMALLEST_JUMP_NM = 30_000;
/** Rhythm and amplitude wander by 15 % each: this many times the fastest seen is beyond them in 999 passes of 1000. */
const MARGIN = 1.5;
/** A false alarm widens what is allowed, so that someone who starts to rock harder is not set aside for ever. */
const WIDER = 1.5;

/** What the sweeps at one place say of how fast the reading can change there. */
export class RockingPace {
  #passes = 0;
  #swingNm = 0;
  #durationMs = Number.POSITIVE_INFINITY;

  /** Fastest change of reading seen in these sweeps, nm per ms; 0 before the first. */
  get steepestNmPerMs(): number {
    // s·sin²(πt/T) is steepest at s·π/T.
    return (this.#swingNm * Math.PI) / this.#durationMs;
  }

  /** A sweep closed: its higher side, and the time from maximum to maximum. */
  swept(swingNm: number, durationMs: Ms): void {
    this.#passes += 1;
    // The largest of the recent ones, slowly forgotten.
    this.#swingNm = Math.max(swingNm, this.#swingNm * 0.8);
    this.#durationMs = Math.min(Math.max(durationMs, 1), this.#durationMs * 1.25);
  }

  /** Largest change between two readings `elapsedMs` apart that is no jump, nm. */
  largestChangeNm(elapsedMs: Ms): number {
    const any = Math.min(FASTEST_NM_PER_MS * elapsedMs, FARTHEST_NM);
    if (this.#passes < 2) return Math.max(any, SMALLEST_JUMP_NM);
    const here = MARGIN * this.#swingNm * Math.min(1, (Math.PI * elapsedMs) / this.#durationMs);
    return Math.max(Math.min(any, here + SMALLEST_JUMP_NM), SMALLEST_JUMP_NM);
  }

  /** A jump was found. */
  widen(): void {
    this.#swingNm *= WIDER;
  }

  /** The gauge went elsewhere. */
  forget(): void {
    this.#passes = 0;
    this.#swingNm = 0;
    this.#durationMs = Number.POSITIVE_INFINITY;
  }
}
