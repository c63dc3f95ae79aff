import { toNm } from "../../core/length/nm.ts";
import { StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Sample } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { anyRocking, Chance, type Rocking } from "../sweep/rocking.ts";
import { passesOf, stationError } from "../sweep/stationError.ts";

/** One row: how far station values are from the truth, and how far they must be at least, µm. */
export interface TurningPointRow {
  readonly perSecond: number;
  readonly wander: "turns" | "smooth";
  readonly rms: number;
  readonly bias: number;
  readonly rawRms: number;
  /** Least RMS error of any unbiased value of the station (see `leastError`); for `turns`, null for `smooth`. */
  readonly bound: number | null;
  /** The same if the median has to be taken of seven values each found by itself. */
  readonly medianBound: number | null;
}

const PASSES = 7;
/** Variance of the median over that of the mean of seven normal values (derived here by simulation). */
const MEDIAN_FACTOR = Math.sqrt(1.47);

/** Errors of station values beside the bound of the same simulated rocking, seven passes each. */
export function turningPointTable(stations = 400): TurningPointRow[] {
  const rows: TurningPointRow[] = [];
  for (const perSecond of [10, 20, 50]) {
    for (const wander of ["turns", "smooth"] as const) {
      const found = stationError({ perSecond, stations, wander, jitterOf: "stamp" });
      const bound = wander === "turns" ? leastError(perSecond, stations) : null;
      rows.push({
        perSecond,
        wander,
        rms: found.rms,
        bias: found.bias,
        rawRms: found.rawRms,
        bound,
        medianBound: bound === null ? null : bound * MEDIAN_FACTOR,
      });
    }
  }
  return rows;
}

/**
 * Cramér–Rao bound of a station value, µm RMS over many rockings that wander by `turns`: the inverse of the Fisher
 * information of everything unknown in the data's own model (the value, when and how far each swing ends, mean length,
 * amplitude and offset), with what is known of the wander as prior information (H. L. Van Trees' form; from memory).
 * Readings are taken at even times, which the stamps of a whole station give away, so late stamps cost nothing; rounding
 * counts as noise of q²/12. Derivatives are central differences.
 */
export function leastError(perSecond: number, stations: number, seed = 77): number {
  const chance = new Chance(seed + perSecond);
  let squares = 0;
  for (let i = 0; i < stations; i += 1) squares += boundOf(anyRocking(chance, perSecond, "turns", "stamp"), chance);
  return Math.sqrt(squares / stations);
}

const RADIANS = Math.PI / 180;
/** Variance of a standard normal cut off at 2. */
const MILD_VARIANCE = 0.774;

/** Least variance of the value of one station, µm². */
function boundOf(rocking: Rocking, chance: Chance): number {
  const half = 500 / rocking.hertz;
  const amplitude = rocking.amplitudeDeg * RADIANS;
  const offset = rocking.offsetDeg * RADIANS;
  const wander = () => Math.max(0.5, 1 + rocking.wanderBy * chance.mild());
  // Unknowns: value, half length, amplitude, offset, first time, then the lengths and the ends.
  const lengths = Array.from({ length: PASSES }, () => half * wander());
  const ends = Array.from({ length: PASSES + 1 }, (_, j) => offset + side(j) * amplitude * wander());
  const truth = [0, half, amplitude, offset, 0, ...lengths, ...ends];
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const interval = 1000 / rocking.perSecond;
  const times: number[] = [];
  for (let t = chance.between(0, interval); t < total; t += interval) times.push(t);

  const reach = (rocking.boreMm - 2 * rocking.contactMm) * 1000;
  const reads = (unknown: readonly number[], t: number): number => {
    let from = unknown[4] as number;
    let pass = 0;
    while (pass < PASSES - 1 && t > from + (unknown[5 + pass] as number)) {
      from += unknown[5 + pass] as number;
      pass += 1;
    }
    const first = unknown[5 + PASSES + pass] as number;
    const next = unknown[6 + PASSES + pass] as number;
    const turned = Math.cos((Math.PI * (t - from)) / (unknown[5 + pass] as number));
    const theta = (first + next) / 2 + ((first - next) / 2) * turned;
    return (unknown[0] as number) + reach / Math.cos(theta) - reach;
  };
  const priors = (unknown: readonly number[]): number[] => {
    const deviation = rocking.wanderBy * Math.sqrt(MILD_VARIANCE);
    const [, mean, size, middle] = unknown as [number, number, number, number];
    const values: number[] = [];
    for (let j = 0; j < PASSES; j += 1) values.push(((unknown[5 + j] as number) - mean) / (deviation * half));
    for (let j = 0; j <= PASSES; j += 1) {
      values.push(((unknown[5 + PASSES + j] as number) - middle - side(j) * size) / (deviation * amplitude));
    }
    return values;
  };
  const noise = Math.sqrt((rocking.noiseNm / 1000) ** 2 + (rocking.resolutionNm / 1000) ** 2 / 12);
  const looks = (unknown: readonly number[]) => [...times.map((t) => reads(unknown, t) / noise), ...priors(unknown)];

  const rows = truth.map((value, i) => {
    const by = i === 0 ? 1 : Math.max(Math.abs(value), amplitude) * 1e-5;
    const up = looks(truth.with(i, value + by));
    const down = looks(truth.with(i, value - by));
    // Scaled so that all unknowns are of one size.
    const scale = i === 0 ? 1 : i === 1 || (i > 3 && i < 5 + PASSES) ? half : amplitude;
    return up.map((high, k) => ((high - (down[k] as number)) / (2 * by)) * scale);
  });
  const information = rows.map((a) => rows.map((b) => a.reduce((sum, value, k) => sum + value * (b[k] as number), 0)));
  return firstOfInverse(information);
}

function side(j: number): number {
  return j % 2 === 0 ? 1 : -1;
}

/** Element (0, 0) of the inverse of a symmetric positive definite matrix, by elimination from the last row up. */
function firstOfInverse(matrix: number[][]): number {
  const m = matrix.map((row) => [...row]);
  for (let k = m.length - 1; k > 0; k -= 1) {
    const pivot = m[k] as number[];
    const diagonal = pivot[k] as number;
    for (let i = 0; i < k; i += 1) {
      const row = m[i] as number[];
      const factor = (row[k] as number) / diagonal;
      for (let j = 0; j <= k; j += 1) row[j] = (row[j] as number) - factor * (pivot[j] as number);
    }
  }
  return 1 / ((m[0] as number[])[0] as number);
}

/** Speeds as ratios of one run, so that they mean the same on any machine. */
export interface CuttingSpeed {
  /** Readings a second through the cutter while nothing happens: at rest in a bore, and in the air. */
  readonly idlePerSecond: number;
  readonly airPerSecond: number;
  /** Time of a rocking reading over that of an idle one. */
  readonly rockingOverIdle: number;
  /** Time to fit a station of seven passes at 50 a second over the time that its readings took to make. */
  readonly fitOverLive: number;
}

/** Measures the cutter and the fit on this machine. */
export function cuttingSpeed(): CuttingSpeed {
  const chance = new Chance(5);
  const idle: Sample[] = Array.from({ length: 1_000_000 }, (_, i) => ({
    tMs: i * 20,
    valueNm: toNm(20_000 + 1270 * Math.round(0.4 * chance.normal())),
  }));
  const rocking: Rocking = {
    ...anyRocking(chance, 50, "turns", "stamp"),
    amplitudeDeg: 5,
    hertz: 0.8,
    resolutionNm: 1270,
  };
  const pass = 500 / rocking.hertz;
  const moving: Sample[] = Array.from({ length: 1_000_000 }, (_, i) => ({
    tMs: i * 20,
    valueNm: toNm(50_000 * Math.sin((Math.PI * i * 20) / pass) ** 2),
  }));
  const through = (samples: readonly Sample[], farNm = 300_000) => {
    const cutter = new StreamCutter({ resolutionNm: toNm(1270) });
    cutter.setFar(toNm(farNm));
    const begin = performance.now();
    for (const sample of samples) cutter.push(sample);
    return performance.now() - begin;
  };
  through(idle.slice(0, 100_000));
  const idleMs = through(idle);
  const movingMs = through(moving);
  const airMs = through(idle, -1_000_000);
  const passes = passesOf(rocking, chance, PASSES);
  for (let i = 0; i < 20; i += 1) turningPoints(passes, toNm(1270));
  const begin = performance.now();
  const fits = 50;
  for (let i = 0; i < fits; i += 1) turningPoints(passes, toNm(1270));
  const fitMs = (performance.now() - begin) / fits;
  return {
    idlePerSecond: (1000 * idle.length) / idleMs,
    airPerSecond: (1000 * idle.length) / airMs,
    rockingOverIdle: movingMs / idleMs,
    fitOverLive: fitMs / (PASSES * pass),
  };
}
