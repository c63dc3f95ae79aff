import type { Limits } from "../fit/finding.ts";
import type { LifterFit } from "../fit/lifterFits.ts";
import { preferredBand } from "../fit/preferredBand.ts";
import { toNm } from "../length/nm.ts";

/**
 * Twice the clearance aimed for, nm: the sum of the ends of the preferred band, or of the limits where there is none.
 * Doubled because the middle of two whole nanometres may be half of one.
 */
export function doubledTarget(limits: Limits): number {
  if (limits.preferredLowNm === null && limits.preferredHighNm === null) return limits.lowNm + limits.highNm;
  const { lowNm, highNm } = preferredBand(limits);
  return toNm(lowNm + highNm);
}

/**
 * Twice the deviation of a bore, nm, signed, exact: of the middle of its smallest and largest station clearance from the
 * target.
 */
export function doubledDeviation(
  { clearanceMinNm, clearanceMaxNm }: Pick<LifterFit, "clearanceMinNm" | "clearanceMaxNm">,
  limits: Limits,
): number {
  return clearanceMinNm + clearanceMaxNm - doubledTarget(limits);
}
