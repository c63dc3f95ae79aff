import { type Nm, toNm } from "../../core/length/nm.ts";
import type { Sample } from "../../core/sweep/sweep.ts";

/** A seeded source of random numbers (mulberry32, public domain, from memory). */
export class Chance {
  #state: number;
  constructor(seed: number) {
    this.#state = seed >>> 0;
  }
  /** Uniform in [0, 1). */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }
  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }
  /** Standard normal (Box and Muller). */
  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.next())) * Math.cos(2 * Math.PI * this.next());
  }
  /** Standard normal, never beyond 2. */
  mild(): number {
    for (;;) {
      const value = this.normal();
      if (Math.abs(value) <= 2) return value;
    }
  }
}

/**
 * How a hand wanders: `turns` gives each half swing its own length and end, the tilt going between the ends as half a
 * cosine; `smooth` lets rate and amplitude drift all the time; `kinked` changes the amplitude at the middle of the swing,
 * which no hand does, and is here to see what a wrong model costs.
 */
export type Wander = "turns" | "smooth" | "kinked";

export interface Rocking {
  readonly boreMm: number;
  readonly contactMm: number;
  readonly amplitudeDeg: number;
  readonly offsetDeg: number;
  readonly hertz: number;
  readonly perSecond: number;
  readonly wander: Wander;
  /** Relative standard deviation of rhythm and amplitude. */
  readonly wanderBy: number;
  readonly jitterMs: number;
  /** Whether a reading's stamp is late, or the reading itself. */
  readonly jitterOf: "stamp" | "reading";
  readonly noiseNm: number;
  readonly resolutionNm: number;
  /** True smallest reading, nm. */
  readonly squareNm: number;
}

/** A rocking as the requirement describes it, drawn at random. */
export function anyRocking(chance: Chance, perSecond: number, wander: Wander, jitterOf: "stamp" | "reading"): Rocking {
  const amplitudeDeg = chance.between(2, 10);
  return {
    boreMm: chance.between(18, 26),
    contactMm: 3,
    amplitudeDeg,
    offsetDeg: amplitudeDeg * 0.15 * chance.mild(),
    hertz: chance.between(0.5, 1),
    perSecond,
    wander,
    wanderBy: chance.between(0.12, 0.15),
    jitterMs: 2,
    jitterOf,
    noiseNm: 400,
    resolutionNm: [500, 1000, 1270][Math.floor(chance.between(0, 3))] as number,
    squareNm: chance.between(-20_000, 60_000),
  };
}

const RADIANS = Math.PI / 180;

/** Reading of a gauge tilted by `theta` radians, nm: (D − 2R)/cos θ + 2R, less what it reads square. */
export function tilted(rocking: Rocking, theta: number): number {
  const reach = (rocking.boreMm - 2 * rocking.contactMm) * 1e6;
  return rocking.squareNm + reach / Math.cos(theta) - reach;
}

/** Tilt in radians as a function of time in ms, over at least `seconds`. */
export function tilting(rocking: Rocking, chance: Chance, seconds: number): (tMs: number) => number {
  const amplitude = rocking.amplitudeDeg * RADIANS;
  const offset = rocking.offsetDeg * RADIANS;
  const half = 500 / rocking.hertz;
  const wander = () => Math.max(0.5, 1 + rocking.wanderBy * chance.mild());
  if (rocking.wander === "smooth") {
    // Rate and amplitude go smoothly through one random value for each half swing.
    const knots = Math.ceil((seconds * 1000) / half) + 4;
    const rate = Array.from({ length: knots }, wander);
    const size = Array.from({ length: knots }, wander);
    const smooth = (values: number[], x: number) => {
      const at = Math.min(Math.max(Math.floor(x), 0), knots - 2);
      const s = Math.min(Math.max(x - at, 0), 1);
      const ease = s * s * (3 - 2 * s);
      return (values[at] as number) * (1 - ease) + (values[at + 1] as number) * ease;
    };
    const stepMs = 1;
    const phases: number[] = [chance.between(0, 2 * Math.PI)];
    for (let t = 0; t < seconds * 1000 + 10; t += stepMs) {
      phases.push((phases.at(-1) as number) + ((Math.PI * stepMs) / half) * smooth(rate, t / half));
    }
    return (tMs) => {
      const at = Math.min(Math.max(Math.floor(tMs / stepMs), 0), phases.length - 2);
      const s = tMs / stepMs - at;
      const phase = (phases[at] as number) * (1 - s) + (phases[at + 1] as number) * s;
      return offset + amplitude * smooth(size, tMs / half) * Math.cos(phase);
    };
  }
  const ends: { t: number; theta: number; size: number }[] = [];
  let t = -half * chance.between(0, 2) - half;
  let side = chance.next() < 0.5 ? 1 : -1;
  while (t < seconds * 1000 + 3 * half) {
    const size = amplitude * wander();
    ends.push({ t, theta: offset + side * size, size });
    t += half * wander();
    side = -side;
  }
  return (tMs) => {
    let at = 0;
    while (at < ends.length - 2 && (ends[at + 1]?.t ?? 0) <= tMs) at += 1;
    const from = ends[at] as { t: number; theta: number; size: number };
    const to = ends[at + 1] as { t: number; theta: number; size: number };
    const s = (tMs - from.t) / (to.t - from.t);
    if (rocking.wander === "turns") {
      return from.theta + ((to.theta - from.theta) * (1 - Math.cos(Math.PI * s))) / 2;
    }
    const direction = from.theta > offset ? 1 : -1;
    const size = s < 0.5 ? from.size : to.size;
    return offset + direction * size * Math.cos(Math.PI * s);
  };
}

/** What the gauge's display sends while it is rocked for `seconds`, beginning at `startMs`. */
export function rock(rocking: Rocking, chance: Chance, seconds: number, startMs = 0): Sample[] {
  const theta = tilting(rocking, chance, seconds);
  const interval = 1000 / rocking.perSecond;
  const first = chance.between(0, interval);
  const samples: Sample[] = [];
  for (let t = first; t < seconds * 1000; t += interval) {
    const late = rocking.jitterMs * chance.normal();
    const readAt = rocking.jitterOf === "reading" ? t + late : t;
    const stampedAt = t + late;
    const value = tilted(rocking, theta(readAt)) + rocking.noiseNm * chance.normal();
    const shown = Math.round(value / rocking.resolutionNm) * rocking.resolutionNm;
    samples.push({ tMs: Math.max(startMs + stampedAt, samples.at(-1)?.tMs ?? 0), valueNm: toNm(shown) as Nm });
  }
  return samples;
}
