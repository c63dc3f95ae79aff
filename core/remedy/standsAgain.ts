import type { FitInput } from "../fit/finding.ts";
import { coverageFactor } from "../fit/gum.ts";
import { type Extremes, type Judged, judge } from "../fit/verdict.ts";
import { FOUND_TO_FIT } from "./finishWindow.ts";

/**
 * Whether a bore that fits and is not cut will be found to fit again, 95 times in 100, when it is measured once more with
 * the present budget. Derived here: two measurements of one bore differ by √2·u (as if nothing of their errors were
 * shared, which is the worst), so it stands if it would still fit with every station t(95 %)·√2·u off, to either side.
 */
export function standsAgain(
  { smallest, largest }: Extremes,
  { limits, rule }: Pick<FitInput, "limits" | "rule">,
): boolean {
  const off = (sign: 1 | -1) => (station: Judged) => {
    const byNm = sign * coverageFactor(2 * FOUND_TO_FIT - 1, station.degreesOfFreedom) * Math.SQRT2 * station.u;
    return { ...station, clearanceNm: station.clearanceNm + byNm, value: station.value + byNm };
  };
  return ([1, -1] as const).every((sign) => {
    const shifted = { smallest: off(sign)(smallest), largest: off(sign)(largest) };
    return judge(shifted, limits, rule).verdict === "fits";
  });
}
