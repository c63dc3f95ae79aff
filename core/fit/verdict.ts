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
  /** That the smallest is below the limits. */
  readonly tooTight: number;
  /** That the largest is above them. */
  readonly tooLoose: number;
  /** That both are inside. */
  readonly inside: number;
  /** That what the verdict says is true; for `undecided` the same as `inside`. */
  readonly confidence: number;
}

/**
 * Judges a bore against limits (both ends included).
 *
 * A bore fits only if its smallest and its largest clearance both do. The two share most of their errors (zero,
 * micrometer, temperature); shared errors move both the same way, so "smallest below" and "largest above" exclude each
 * other, and P(fits) = 1 − P(smallest < low) − P(largest > high) exactly. For errors that are not shared the same figure
 * is a lower bound (Bonferroni), so a stated "fits" is wrong at most as often as it says. With one station it is the
 * two-sided probability of JCGM 106:2012, 7.3.2.
 *
 * - `simple` compares the clearances as shown.
 * - `guarded` says `fits` at P(fits) ≥ 95 %, `too tight` or `too loose` when that side is certain to 95 % (ISO 14253-1),
 *   `undecided` between.
 *
 * A bore that is both, bell-mouthed beyond the whole band, is called too loose: metal that is gone decides the remedy.
 */
export function judge(extremes: Extremes, limits: Pick<Limits, "lowNm" | "highNm">, rule: Rule): Judgement {
  const tooTight = probabilityBelow(extremes.smallest, limits.lowNm);
  const tooLoose = probabilityAbove(extremes.largest, limits.highNm);
  const inside = Math.max(0, 1 - tooTight - tooLoose);
  const verdict = verdictOf();
  const confidence = verdict === "too tight" ? tooTight : verdict === "too loose" ? tooLoose : inside;
  return { verdict, tooTight, tooLoose, inside, confidence };

  function verdictOf(): Judgement["verdict"] {
    if (rule === "simple") {
      if (extremes.largest.clearanceNm > limits.highNm) return "too loose";
      if (extremes.smallest.clearanceNm < limits.lowNm) return "too tight";
      return "fits";
    }
    if (tooLoose >= CONFORMANCE) return "too loose";
    if (tooTight >= CONFORMANCE) return "too tight";
    if (inside >= CONFORMANCE) return "fits";
    return "undecided";
  }
}
