import { bestEstimate } from "../../fit/bestEstimate.ts";
import { probabilityInside } from "../../fit/odds.ts";
import { CONFORMANCE } from "../../fit/verdict.ts";
import type { Result } from "../result.ts";
import type { ResultStation } from "./reportInput.ts";

/** The clearances as shown (nm) between which a bore of one such station would be called `fits`. */
export interface GuardBand {
  readonly lowNm: number;
  readonly highNm: number;
}

/**
 * What is left of the limits for a value as uncertain as this station's, by the same odds as the verdicts: two-sided,
 * 95 % (JCGM 106:2012, 7.3.2). Null when no value would fit, or the station has no uncertainty. `centringNm` as in the
 * job's budget.
 */
export function guardBand(station: ResultStation, limits: Result["limits"], centringNm: number): GuardBand | null {
  if (station.clearanceNm === null || station.budget.length === 0) return null;
  const lines = station.budget.map((line) => ({
    ...line,
    // A file writes infinite degrees of freedom as null.
    degreesOfFreedom: line.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
  }));
  const { value, u, degreesOfFreedom } = bestEstimate(0, lines, centringNm);
  const fits = (nm: number) =>
    probabilityInside({ value: nm + value, u, degreesOfFreedom }, limits.lowNm, limits.highNm) >= CONFORMANCE;
  const middle = (limits.lowNm + limits.highNm) / 2 - value;
  if (!fits(middle)) return null;
  const edge = (way: 1 | -1) => {
    let inside = 0;
    let outside = limits.highNm - limits.lowNm;
    for (let step = 0; step < 60; step += 1) {
      const offset = (inside + outside) / 2;
      if (fits(middle + way * offset)) inside = offset;
      else outside = offset;
    }
    return middle + way * inside;
  };
  return { lowNm: edge(-1), highNm: edge(1) };
}
