import type { Limits } from "../../core/fit/finding.ts";

/** What part of the line of clearances a bar shows, nm. */
export interface Scale {
  readonly fromNm: number;
  readonly toNm: number;
}

/** The limits with half their width more on either side, so that a value just outside still has its place. */
export function limitsScale(limits: Limits): Scale {
  const margin = Math.max(1, limits.highNm - limits.lowNm) * 0.5;
  return { fromNm: limits.lowNm - margin, toNm: limits.highNm + margin };
}

/** Where a value is drawn on a scale: 0 … 1 along it, and on which side it lies beyond the ends. */
export interface Spot {
  readonly at: number;
  readonly beyond: "below" | "above" | null;
}

/** The place of a clearance (nm) on the scale; what lies beyond an end is drawn at that end and says so. */
export function spotOf(nm: number, scale: Scale): Spot {
  const at = (nm - scale.fromNm) / (scale.toNm - scale.fromNm);
  if (at < 0) return { at: 0, beyond: "below" };
  if (at > 1) return { at: 1, beyond: "above" };
  return { at, beyond: null };
}

export type InLimits = "below the limits" | "inside the limits" | "in the preferred band" | "above the limits";

/** Where a clearance (nm) lies among the limits, both ends included; says nothing about how sure that is. */
export function inLimits(nm: number, limits: Limits): InLimits {
  if (nm < limits.lowNm) return "below the limits";
  if (nm > limits.highNm) return "above the limits";
  const { preferredLowNm, preferredHighNm } = limits;
  if (preferredLowNm === null || preferredHighNm === null) return "inside the limits";
  return nm >= preferredLowNm && nm <= preferredHighNm ? "in the preferred band" : "inside the limits";
}

/** Of what `inLimits` may say, what takes most room. */
export function longestInLimits({ preferredLowNm, preferredHighNm }: Limits): InLimits {
  return preferredLowNm === null || preferredHighNm === null ? "inside the limits" : "in the preferred band";
}
