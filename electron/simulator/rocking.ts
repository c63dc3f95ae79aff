import type { Random } from "./random.ts";

const DEGREE = Math.PI / 180;

/** How a person rocks a gauge. Angles in degrees, times in ms. */
export interface RockingHabit {
  /** Rhythm of a whole to-and-fro, Hz, drawn anew at every place. */
  readonly lowHz: number;
  readonly highHz: number;
  /** Amplitude, drawn anew at every place. */
  readonly lowDegrees: number;
  readonly highDegrees: number;
  /** Standard deviation of rhythm and of amplitude from one pass to the next, as a part of their mean. */
  readonly wander: number;
  /** How far off square the middle of the rocking may lie, as a part of the amplitude. */
  readonly offSquare: number;
}

/** Ordinary rocking, 0.5 to 1.0 Hz and 2 to 10°, wandering by 12 to 15 % (our choice: what a hand does at a bench). */
export const ORDINARY_ROCKING: RockingHabit = {
  lowHz: 0.5,
  highHz: 1,
  lowDegrees: 2,
  highDegrees: 10,
  wander: 0.135,
  offSquare: 0.25,
};

/** The rhythm of one place: each half to-and-fro is one pass through square, from one far tilt to the other. */
export class Rocking {
  readonly #random: Random;
  readonly #habit: RockingHabit;
  readonly #halfPeriodMs: number;
  readonly #amplitude: number;
  readonly #middle: number;
  #side: 1 | -1;
  #wanderTime = 0;
  #wanderTilt = 0;

  constructor(habit: RockingHabit, random: Random) {
    this.#random = random;
    this.#habit = habit;
    this.#halfPeriodMs = 500 / random.between(habit.lowHz, habit.highHz);
    this.#amplitude = random.between(habit.lowDegrees, habit.highDegrees) * DEGREE;
    this.#middle = this.#amplitude * random.triangular(habit.offSquare);
    this.#side = random.next() < 0.5 ? 1 : -1;
  }

  /** The far tilt (radians, signed) of the side the gauge leans to now. */
  farTilt(): number {
    return this.#middle + this.#side * this.#amplitude * (1 + this.#wanderTilt);
  }

  /** Goes over to the other side: how long it takes (ms) and the tilt (radians) where it turns. */
  pass(): { readonly durationMs: number; readonly toTilt: number } {
    // A hand keeps half of its last deviation (our choice); beyond 2.5 sigma it would be another rhythm.
    const { wander } = this.#habit;
    const step = Math.sqrt(0.75) * wander;
    const within = (value: number) => Math.max(-2.5 * wander, Math.min(2.5 * wander, value));
    this.#wanderTime = within(0.5 * this.#wanderTime + this.#random.normal(step));
    this.#wanderTilt = within(0.5 * this.#wanderTilt + this.#random.normal(step));
    this.#side = this.#side === 1 ? -1 : 1;
    return { durationMs: this.#halfPeriodMs * (1 + this.#wanderTime), toTilt: this.farTilt() };
  }
}
