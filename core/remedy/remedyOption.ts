import type { Nm } from "../length/nm.ts";

/** Ways to deal with a bore, least effort first. */
export const REMEDY_ORDER = ["leave", "pair", "hone", "body", "bush"] as const;
export type RemedyKind = (typeof REMEDY_ORDER)[number];

/** Rough order of effort, 0 (nothing) upwards: an order and no measure. Our choice. */
export function effortOf(kind: RemedyKind): number {
  return REMEDY_ORDER.indexOf(kind);
}

/** Whether metal is cut. */
export function isCutting(kind: RemedyKind): boolean {
  return kind === "hone" || kind === "body" || kind === "bush";
}

/** What is to be in the micrometer when a bore is measured again. */
export type MeasureOn = "any lifter" | "its lifter";

/** One way to deal with a bore; lengths in nm at 20 °C. */
export interface RemedyOption {
  readonly kind: RemedyKind;
  /** Diameter of the lifter it is for. */
  readonly lifterNm: Nm;
  /** Name of that lifter where it was measured; null for the reference lifter, or for one still to be bought. */
  readonly lifter: string | null;
  /** Finished diameter, both included; null where nothing is cut, or where no size would do. */
  readonly finishLowNm: Nm | null;
  readonly finishHighNm: Nm | null;
  /** To remove on diameter at the smallest station, to the middle of the finished size; 0 where nothing is cut. */
  readonly removeNm: Nm;
  /** The same at the largest station. */
  readonly removeAtLargestNm: Nm;
  readonly possible: boolean;
  /** Why it is not possible, or what it rests on; whole sentences. */
  readonly why: string;
  /** Between which clearances the bore ends; null where that is not known. */
  readonly clearanceLowNm: Nm | null;
  readonly clearanceHighNm: Nm | null;
  /**
   * What is to be in the micrometer when the bore is measured again, so that it is found to fit. Where nothing is cut it is
   * told of what a plan takes, and null when neither is sure to do.
   */
  readonly measureOn: MeasureOn | null;
  /** What can not be known from the measurement, and what else to look at. */
  readonly unknown: readonly string[];
}
