import type { Limits } from "./finding.ts";
import type { Extremes } from "./verdict.ts";

/**
 * The band one aims for inside the limits, nm, both ends included.
 *
 * As given; an end that is not given is that of the middle third of the limits. A third is our choice: it is the share
 * of the allowed band that common practice prefers for flat-faced lifters (0.0015 to 0.0017 in of 0.0013 to 0.0019 in).
 */
export function preferredBand(limits: Limits): { readonly lowNm: number; readonly highNm: number } {
  const third = (limits.highNm - limits.lowNm) / 3;
  return {
    lowNm: limits.preferredLowNm ?? limits.lowNm + third,
    highNm: limits.preferredHighNm ?? limits.highNm - third,
  };
}

/** Whether the smallest and the largest station clearance of a bore, as shown, both lie in the preferred band. */
export function isPreferred({ smallest, largest }: Extremes, limits: Limits): boolean {
  const band = preferredBand(limits);
  return smallest.clearanceNm >= band.lowNm && largest.clearanceNm <= band.highNm;
}
