import { parseLength } from "../length/parseLength.ts";
import type { Limits } from "./finding.ts";

/** The mark every shipped limit carries; the lifter or cam maker's sheet always wins over it. */
export const COMMON_PRACTICE = "common practice, no source";

/**
 * Limits on clearance that ship with the program, by lifter style; nm at 20 °C, both ends included. A roller's
 * preferred band is left open on purpose: it is the middle of the limits (`preferredBand`).
 */
export const SHIPPED_LIMITS: Readonly<Record<"flat" | "roller", Limits>> = Object.freeze({
  flat: Object.freeze({
    lowNm: parseLength("0.0013 in"),
    highNm: parseLength("0.0019 in"),
    preferredLowNm: parseLength("0.0015 in"),
    preferredHighNm: parseLength("0.0017 in"),
    serviceHighNm: null,
    source: COMMON_PRACTICE,
  }),
  roller: Object.freeze({
    lowNm: parseLength("0.0020 in"),
    highNm: parseLength("0.0030 in"),
    preferredLowNm: null,
    preferredHighNm: null,
    serviceHighNm: null,
    source: COMMON_PRACTICE,
  }),
});
