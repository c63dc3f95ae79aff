import type { Limits } from "../fit/finding.ts";
import { NM_PER_UM, type Nm, toNm } from "../length/nm.ts";

/** Beyond the largest bore expected by this much, a reading is of a gauge out of the bore (the contract's figure). */
const FAR_NM = 250 * NM_PER_UM;

/**
 * The reading (nm, signed, not included) above which the gauge is in the air: beyond the largest bore expected, be that
 * the upper limit or the wear limit, over the reading `zeroNm` that stands for the zero. `gain` turns a clearance into
 * a change of reading.
 */
export function farNm(zeroNm: Nm, limits: Pick<Limits, "highNm" | "serviceHighNm">, gain: number): Nm {
  const widest = Math.max(limits.highNm, limits.serviceHighNm ?? limits.highNm);
  return toNm(zeroNm + widest / gain + FAR_NM);
}

/** The reading (nm, signed, not included) below which it can be of no bore that a lifter was ever in. */
export function nearNm(zeroNm: Nm, limits: Pick<Limits, "lowNm">): Nm {
  return toNm(zeroNm + Math.min(0, limits.lowNm) - FAR_NM);
}
