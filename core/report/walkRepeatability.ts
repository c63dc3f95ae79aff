import { keptTurningPoints } from "../fit/repeatability.ts";
import { pooledScatter } from "../fit/scatter.ts";
import { varianceInterval } from "../fit/studyIntervals.ts";
import type { Sends } from "../gauge/profile.ts";
import type { Sweep } from "../sweep/sweep.ts";

/** Scatter of single sweeps about the mean of their group, pooled. */
export interface PooledSweeps {
  /** Standard deviation, nm; 0 without degrees of freedom. */
  readonly deviationNm: number;
  /** Σ(n − 1) over the groups. */
  readonly degreesOfFreedom: number;
  /** Groups with at least two kept sweeps. */
  readonly groups: number;
  /** Of the deviation, two-sided, from chi-square; null without degrees of freedom. */
  readonly interval: { readonly lowNm: number; readonly highNm: number } | null;
}

/** The repeatability that comes free with a walk: single sweeps in the bores and in the micrometer. */
export interface WalkRepeatability {
  readonly sends: Sends;
  readonly bores: PooledSweeps;
  readonly zeros: PooledSweeps;
  /** What the figures do not say. */
  readonly notes: string[];
}

/** Sweeps of a walk, a list for each closed station and for each zero or return check. */
export interface WalkSweeps {
  /** True when several people measured, as in a study's session: the sweeps of a station are still one person's. */
  readonly severalPeople: boolean;
  readonly sends: Sends;
  readonly stations: readonly { readonly sweeps: readonly Sweep[] }[];
  readonly references: readonly { readonly sweeps: readonly Sweep[] }[];
}

/**
 * Repeatability of single sweeps from a walk alone, pooled over its stations (GUM 4.2.4) with Σ(n−1) degrees of
 * freedom. Interval of a standard deviation from chi-square; it supposes that sweeps scatter normally.
 */
export function walkRepeatability(walk: WalkSweeps, confidence: number): WalkRepeatability {
  const { sends, stations, references, severalPeople } = walk;
  const notes = [
    severalPeople
      ? "These are single sweeps within one placing of the gauge; a study's repeatability is of whole station values, placed anew."
      : "It holds for one gauge in one pair of hands: reproducibility between people is not seen.",
    "Sweeps set aside or struck are left out, and a station closes when its last sweeps agree: on a rough gauge the figure is on the small side.",
  ];
  if (sends === "press") {
    notes.push(
      "Presses are long by however far from square they were: this is the scatter of single presses, not of the smallest one.",
    );
  }
  return { sends, bores: pool(stations, confidence), zeros: pool(references, confidence), notes };
}

function pool(of: readonly { readonly sweeps: readonly Sweep[] }[], confidence: number): PooledSweeps {
  const groups = of.map(({ sweeps }) => keptTurningPoints(sweeps)).filter((group) => group.length >= 2);
  const { deviation, degreesOfFreedom } = pooledScatter(groups);
  const variance =
    degreesOfFreedom === 0
      ? null
      : varianceInterval([{ coefficient: 1, meanSquare: deviation ** 2, degreesOfFreedom }], confidence);
  return {
    deviationNm: deviation,
    degreesOfFreedom,
    groups: groups.length,
    interval: variance === null ? null : { lowNm: Math.sqrt(variance.low), highNm: Math.sqrt(variance.high) },
  };
}
