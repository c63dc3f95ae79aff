import { formatLength } from "../length/formatLength.ts";
import { toNm } from "../length/nm.ts";
import type { Limits, Verdict } from "./finding.ts";
import { probabilityAbove } from "./odds.ts";
import { CONFORMANCE, type Judged } from "./verdict.ts";

/**
 * How a bore that is too loose, or may be, stands against the wear limit of a used block: one sentence, or null when the
 * limits carry none or the bore is not loose. The verdict is for a new fit and does not change by it.
 */
export function wearOf(verdict: Verdict, largest: Judged, limits: Limits): string | null {
  const serviceHighNm = limits.serviceHighNm;
  if (serviceHighNm === null || (verdict !== "too loose" && verdict !== "undecided")) return null;
  if (verdict === "undecided" && largest.clearanceNm <= limits.highNm) return null;
  const limit = `the wear limit of ${formatLength(serviceHighNm, "in", 5)} in for a used block`;
  const beyond = probabilityAbove(largest, serviceHighNm);
  const value = `${formatLength(toNm(largest.clearanceNm), "in", 5)} in at the loosest station`;
  if (beyond >= CONFORMANCE) return `${value}: beyond ${limit}.`;
  if (1 - beyond >= CONFORMANCE) return `${value}: beyond the limits for a new fit, still inside ${limit}.`;
  return `${value}: too near ${limit} to say on which side it is.`;
}
