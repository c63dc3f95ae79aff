import type { Limits, Rule, Verdict } from "./finding.ts";
import { type Measured, probabilityAbove, probabilityBelow } from "./odds.ts";

/** Probability that must be reached to state a verdict. Source: ISO 14253-1:2017, default. */
export const CONFORMANCE = 0.95;

/** A station clearance as shown, nm, with the distribution of the true one (`bestEstimate`). */
export interface Judged extends Measured {
  readonly clearanceNm: number;
}

/** The smallest and the largest station clearance of a bore; the same one twice with a single station. */
export interface Extremes<Station extends Judged = Judged> {
  readonly smallest: Station;
  readonly largest: Station;
}

/** The smallest and the largest of a bore's stations; null without any. */
export function extremesOf<Station extends Judged>(stations: readonly Station[]): Extremes<Station> | null {
  const [first, ...others] = stations;
  if (first === undefined) return null;
  let smallest = first;
  let largest = first;
  for (const station of others) {
    if (station.clearanceNm < smallest.clearanceNm) smallest = station;
    if (station.clearanceNm >= largest.clearanceNm) largest = station;
  }
  return { smallest, largest };
}

/** A verdict with the probabilities (0 … 1) it rests on. */
export interface Judgement {
  readonly verdict: Exclude<Verdict, "not measured">;
  /** That a station is below the limits. */
  readonly tooTight: number;
  /** That one is above them. */
  readonly tooLoose: number;
  /** That all are inside. */
  readonly inside: number;
  /** That what the verdict says is true; for `undecided` the same as `inside`. */
  readonly confidence: number;
}

/**
 * Judges a bore against limits (both ends included) by all of its stations, at least one.
 *
 * A bore fits only if every station does. They share most of their errors (zero, micrometer, temperature); shared errors
 * move all the same way, so that the one most likely below is below whenever any is, and likewise above: that is the
 * smallest or the largest where all are known equally well, and may be one between that is known worse, as over another
 * zero. "One below" and "one above" then exclude each other, and P(fits) = 1 − P(one < low) − P(one > high). For errors
 * that are not shared the two sides are taken together by Bonferroni's bound. With one station it is the two-sided
 * probability of JCGM 106:2012, 7.3.2.
 *
 * - `simple` compares the clearances as shown.
 * - `guarded` says `fits` at P(fits) ≥ 95 %, `too tight` or `too loose` when that side is certain to 95 % (ISO 14253-1),
 *   `undecided` between.
 *
 * A bore that is both, bell-mouthed beyond the whole band, is called too loose: metal that is gone decides the remedy.
 *
 * @throws RangeError without a station
 */
export function judge(stations: readonly Judged[], limits: Pick<Limits, "lowNm" | "highNm">, rule: Rule): Judgement {
  const extremes = extremesOf(stations);
  if (extremes === null) throw new RangeError("a bore without stations has no verdict");
  const { smallest, largest } = extremes;
  const tooTight = Math.max(...stations.map((station) => probabilityBelow(station, limits.lowNm)));
  const tooLoose = Math.max(...stations.map((station) => probabilityAbove(station, limits.highNm)));
  const inside = Math.max(0, 1 - tooTight - tooLoose);
  const verdict = verdictOf();
  const confidence = verdict === "too tight" ? tooTight : verdict === "too loose" ? tooLoose : inside;
  return { verdict, tooTight, tooLoose, inside, confidence };

  function verdictOf(): Judgement["verdict"] {
    if (rule === "simple") {
      if (largest.clearanceNm > limits.highNm) return "too loose";
      if (smallest.clearanceNm < limits.lowNm) return "too tight";
      return "fits";
    }
    if (tooLoose >= CONFORMANCE) return "too loose";
    if (tooTight >= CONFORMANCE) return "too tight";
    if (inside >= CONFORMANCE) return "fits";
    return "undecided";
  }
}
