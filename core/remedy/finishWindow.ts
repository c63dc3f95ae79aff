import type { BudgetSettings, Limits, Rule } from "../fit/finding.ts";
import { coverageFactor } from "../fit/gum.ts";
import type { Measured } from "../fit/odds.ts";
import { CONFORMANCE } from "../fit/verdict.ts";

/** What a finish window is computed from; lengths in nm. */
export interface FinishWindowInput {
  readonly limits: Pick<Limits, "lowNm" | "highNm">;
  readonly rule: Rule;
  /** The stations of the bore as they would be judged for the lifter it is finished for; at least one. */
  readonly stations: readonly Pick<Measured, "u" | "degreesOfFreedom">[];
  readonly budget: Pick<BudgetSettings, "centringNm">;
  /** Standard uncertainty of the diameter that the lifter is taken to have. */
  readonly lifterNm: number;
}

/** Between which true clearances (nm at 20 °C, both included, unrounded) a bore must end. */
export interface FinishWindow {
  readonly lowNm: number;
  /** Below `lowNm` where no clearance would do. */
  readonly highNm: number;
  /** What the decision rule keeps off each limit. */
  readonly guardNm: number;
  /** What is kept free on each side for the error of the later measurement and of the lifter's diameter. */
  readonly allowanceNm: number;
}

/** So surely a bore finished at the very end of its window is found to fit. Our choice; elsewhere in it, more surely. */
export const FOUND_TO_FIT = 0.95;

/**
 * The clearances in which a bore must end so that it will be *found* to fit when it is measured again with the present
 * budget. Derived here, in three steps; u is the standard uncertainty of a station, t Student's quantile at its degrees
 * of freedom, and the worst station counts.
 *
 * 1. Guard. The rule says `fits` when P(smallest < low) + P(largest > high) ≤ 5 % (`judge`). Stations may end anywhere
 *    in the window, at both of its ends at once, so each side has half of that: best estimates must lie at least
 *    t(97.5 %)·u inside the limits. With the smallest and the largest at the two ends the sum is then 5 % exactly; and the
 *    window is empty exactly when not even a perfect bore in the middle of the limits could be found to fit, for that too
 *    needs 2.5 % on each side. With the rule `simple` there is no guard: values as shown are compared, which are
 *    centring/2 short of the best estimate (`bestEstimate`).
 * 2. Allowance for the later measurement. Its best estimate errs about the truth by u, and the diameter the bore is
 *    worked to errs with the lifter's by u_L. To be found inside the guard with 95 % (our choice), a station at the very
 *    end must lie t(95 %)·√(u² + u_L²) further inside. Most errors are shared by the stations of a bore, so a bore is
 *    missed on one side or the other: one that fills the window from end to end is found to fit in 90 % or more.
 * 3. Window = [low + guard + allowance, high − guard − allowance].
 *
 * The share of the errors that the first measurement had already is not taken off: another day, another setting.
 */
export function finishWindow({ limits, rule, stations, budget, lifterNm }: FinishWindowInput): FinishWindow {
  let guardNm = 0;
  let allowanceNm = 0;
  for (const { u, degreesOfFreedom } of stations) {
    if (rule === "guarded") guardNm = Math.max(guardNm, coverageFactor(CONFORMANCE, degreesOfFreedom) * u);
    const oneSided = coverageFactor(2 * FOUND_TO_FIT - 1, degreesOfFreedom);
    allowanceNm = Math.max(allowanceNm, oneSided * Math.hypot(u, lifterNm));
  }
  // A value as shown is short by centring/2 on average, at most by all of it.
  const shownShort = rule === "simple" ? budget.centringNm / 2 : 0;
  return {
    lowNm: limits.lowNm + shownShort + guardNm + allowanceNm,
    highNm: Math.min(limits.highNm, limits.highNm + shownShort - guardNm - allowanceNm),
    guardNm,
    allowanceNm,
  };
}
