import type { Sends } from "../gauge/profile.ts";
import type { Sweep } from "../sweep/sweep.ts";
import { medianVariance } from "./medianVariance.ts";
import { scatterBeforeRounding } from "./resolution.ts";
import { pooledScatter } from "./scatter.ts";

/** What is known of the scatter of single sweeps from several groups of them. */
export interface Repeatability {
  readonly sends: Sends;
  /** Standard deviation of single sweeps as read, pooled, nm. */
  readonly scatterNm: number;
  /** What the uncertainty of a station value is computed from: their scatter, or with presses their gaps, nm. */
  readonly scaleNm: number;
  /** Degrees of freedom of `scaleNm`. */
  readonly degreesOfFreedom: number;
}

/**
 * Scatter of a single sweep assumed where nothing was repeated, nm, known to about a half: by GUM G.4.2 that is
 * two degrees of freedom. Our choice.
 */
export const ASSUMED_SCATTER_NM = 500;
const ASSUMED_DEGREES_OF_FREEDOM = 2;

/** Lists of sweeps are never changed, and those of finished stations are asked for again and again. */
const keptOf = new WeakMap<readonly Sweep[], readonly number[]>();

/** Turning points (nm) of the sweeps that count; the list itself must not be changed afterwards. */
export function keptTurningPoints(sweeps: readonly Sweep[]): readonly number[] {
  const known = keptOf.get(sweeps);
  if (known !== undefined) return known;
  const kept = sweeps.filter((sweep) => sweep.use === "kept").map((sweep) => sweep.turningPointNm);
  keptOf.set(sweeps, kept);
  return kept;
}

/**
 * Repeatability of single sweeps, pooled over groups (stations, or references) of kept turning points in nm, read on a
 * display of graduation `resolutionNm`.
 *
 * Stream and held minima scatter on both sides, so the pooled standard deviation describes them, with Σ(n−1) degrees of
 * freedom (GUM 4.2.4); from held minima, which are single rounded readings, rounding is taken out first.
 *
 * A press is long by however far from square it was, so its errors lie on one side, and the
 * standard deviation says little about the smallest of them: the gap between the two smallest does. For errors falling
 * off exponentially from the true value with mean μ, the gap g of n presses has (n−1)·g exponential with mean μ too, so
 * the mean of (n−1)·g estimates μ; it is known to 1/√m from m groups, which by GUM G.4.2 is m/2 degrees of freedom.
 * (An end point judged by its last gap: Robson and Whitlock, Biometrika 51, 1964.)
 */
export function repeatabilityOf(
  groups: readonly (readonly number[])[],
  sends: Sends,
  resolutionNm: number,
): Repeatability {
  const { deviation, degreesOfFreedom } = pooledScatter(groups);
  if (degreesOfFreedom === 0) {
    return {
      sends,
      scatterNm: 0,
      scaleNm: ASSUMED_SCATTER_NM,
      degreesOfFreedom: ASSUMED_DEGREES_OF_FREEDOM,
    };
  }
  if (sends !== "press") {
    const scaleNm = sends === "held" ? scatterBeforeRounding(resolutionNm, deviation) : deviation;
    return { sends, scatterNm: deviation, scaleNm, degreesOfFreedom };
  }
  let sum = 0;
  let count = 0;
  for (const group of groups) {
    const [smallest, second] = [...group].sort((a, b) => a - b);
    if (smallest === undefined || second === undefined) continue;
    sum += (group.length - 1) * (second - smallest);
    count += 1;
  }
  return { sends, scatterNm: deviation, scaleNm: sum / count, degreesOfFreedom: count / 2 };
}

/**
 * Standard uncertainty (nm) of a station value from `count` kept sweeps (at least 1).
 *
 * Median: s·√Var(median). Smallest of n presses: under the exponential law the root mean square of its error about the
 * true value is √2·μ/n, which includes that it is always long. The same figure is 0.95 to 1.2 times the spread of the
 * smallest of two to eight presses with normal errors (checked by simulation in the tests): there the smallest is short
 * by as much in the bore as in the micrometer, and the difference cancels it.
 *
 * So of presses that only scatter rather more than 95 % of the stated intervals hold the truth (96.7 %), and that is left
 * on the safe side: nothing tells such a hand from one whose presses are long, and longer in the micrometer, which rocks
 * in two planes, than in the bore. There the clearance is stated too small, with three presses by up to half of the mean
 * excess; U has to hold that, and the odds of a verdict take it into account by `bestEstimate`.
 */
export function stationRepeatability(repeatability: Repeatability, count: number): number {
  if (repeatability.sends === "press") return (Math.SQRT2 * repeatability.scaleNm) / count;
  return repeatability.scaleNm * Math.sqrt(medianVariance(count));
}
