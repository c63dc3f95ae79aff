import { type Nm, toNm } from "../../core/length/nm.ts";
import { FEWEST_SAMPLES } from "../../core/sweep/judgeStation.ts";
import { median } from "../../core/sweep/median.ts";
import { StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Pass } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { anyRocking, Chance, type Rocking, rock, type Wander } from "./rocking.ts";

/** The first `count` passes that the cutter makes of a rocking long enough for them; fewer if they could not be cut. */
export function passesOf(rocking: Rocking, chance: Chance, count: number): Pass[] {
  const cutter = new StreamCutter({ resolutionNm: toNm(rocking.resolutionNm) });
  const passes: Pass[] = [];
  for (const sample of rock(rocking, chance, (count + 3) / (1.6 * rocking.hertz) + 1)) {
    for (const event of cutter.push(sample)) {
      if (event.type === "pass" && event.pass.end === "turned" && event.pass.samples.length >= FEWEST_SAMPLES) {
        passes.push(event.pass);
      }
    }
  }
  return passes.slice(0, count);
}

/** How far station values are from the truth, µm, over many simulated stations. */
export interface StationError {
  readonly stations: number;
  /** Of the median of turning points. */
  readonly rms: number;
  readonly bias: number;
  /** The error that one station in a hundred exceeds. */
  readonly hundredth: number;
  /** Of the median of the smallest readings, on the same passes. */
  readonly rawRms: number;
  readonly rawBias: number;
  /** Of one turning point alone. */
  readonly singleRms: number;
  /** Share of passes whose turning point is the rhythm model's. */
  readonly rhythmShare: number;
}

/** Measures simulated stations of `passes` sweeps each; the same seed gives the same figures. */
export function stationError(options: {
  readonly perSecond: number;
  readonly stations: number;
  readonly wander: Wander;
  readonly jitterOf: "stamp" | "reading";
  readonly passes?: number;
  readonly seed?: number;
}): StationError {
  const { perSecond, stations, wander, jitterOf, passes: count = 7, seed = 1969 } = options;
  const chance = new Chance(seed + perSecond);
  const errors: number[] = [];
  const raw: number[] = [];
  const single: number[] = [];
  let rhythm = 0;
  while (errors.length < stations) {
    const rocking = anyRocking(chance, perSecond, wander, jitterOf);
    const passes = passesOf(rocking, chance, count);
    if (passes.length < count) throw new Error(`only ${passes.length} passes were cut from ${JSON.stringify(rocking)}`);
    const points = turningPoints(passes, rocking.resolutionNm as Nm);
    const error = (nm: number) => (nm - rocking.squareNm) / 1000;
    errors.push(error(median(points.map((point) => point.turningPointNm))));
    raw.push(error(median(points.map((point) => point.rawMinNm))));
    for (const point of points) {
      single.push(error(point.turningPointNm));
      if (point.method === "rhythm") rhythm += 1;
    }
  }
  return {
    stations,
    rms: rootMeanSquare(errors),
    bias: mean(errors),
    hundredth: errors.map(Math.abs).sort((a, b) => b - a)[Math.floor(stations / 100)] as number,
    rawRms: rootMeanSquare(raw),
    rawBias: mean(raw),
    singleRms: rootMeanSquare(single),
    rhythmShare: rhythm / single.length,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(mean(values.map((value) => value * value)));
}
