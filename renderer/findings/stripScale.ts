import type { BoreFinding, Limits } from "../../core/fit/finding.ts";
import type { Scale } from "../bores/limitsScale.ts";

/** How far beyond the limits the chart goes at most, in widths of the band: farther out a value is an arrow. */
const MOST_BANDS = 1.5;
const LEAST_BANDS = 0.4;

/**
 * The range of clearances that the strip chart shows (nm): the limits and some room, widened to hold the values with
 * their uncertainty, but never so far that one wild value squashes the band.
 */
export function stripScale(findings: readonly BoreFinding[], limits: Limits): Scale {
  const band = Math.max(1, limits.highNm - limits.lowNm);
  let low = limits.lowNm - band * LEAST_BANDS;
  let high = limits.highNm + band * LEAST_BANDS;
  for (const { stations } of findings) {
    for (const { clearanceNm, uncertaintyNm } of stations) {
      if (clearanceNm === null) continue;
      low = Math.min(low, clearanceNm - (uncertaintyNm ?? 0) - band * 0.1);
      high = Math.max(high, clearanceNm + (uncertaintyNm ?? 0) + band * 0.1);
    }
  }
  return {
    fromNm: Math.max(low, limits.lowNm - band * MOST_BANDS),
    toNm: Math.min(high, limits.highNm + band * MOST_BANDS),
  };
}
