import { bestEstimate } from "../fit/bestEstimate.ts";
import { judge } from "../fit/verdict.ts";
import type { Nm } from "../length/nm.ts";
import type { Result } from "./result.ts";

type Bore = Result["bores"][number];
type Station = Bore["stations"][number];

/** What QIF calls the outcome of a characteristic (its CharacteristicStatusEnum, the values used here). */
export type QifStatus = "PASS" | "FAIL" | "INDETERMINATE" | "NOT_ANALYZED";

const STATUS: Readonly<Record<Bore["verdict"], QifStatus>> = {
  fits: "PASS",
  "too tight": "FAIL",
  "too loose": "FAIL",
  undecided: "INDETERMINATE",
  "not measured": "NOT_ANALYZED",
};

/** A bore's status: its verdict in the standard's words. */
export function boreStatus(bore: Bore): QifStatus {
  return STATUS[bore.verdict];
}

/**
 * A station's own status, by the rule and limits of the result and the same odds as a bore of this one station
 * (`centringNm` as in the job's budget). In a bore that fits every station passes: it lies between the two that did.
 */
export function stationStatus(result: Result, bore: Bore, station: Station, centringNm: number): QifStatus {
  if (station.clearanceNm === null || station.uncertaintyNm === null) return "NOT_ANALYZED";
  if (bore.verdict === "fits") return "PASS";
  const lines = station.budget.map((line) => ({
    ...line,
    // A file writes infinite degrees of freedom as null.
    degreesOfFreedom: line.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
  }));
  const judged = {
    clearanceNm: station.clearanceNm,
    ...bestEstimate(station.clearanceNm, lines, centringNm),
  };
  const limits = { lowNm: result.limits.lowNm as Nm, highNm: result.limits.highNm as Nm };
  return STATUS[judge([judged], limits, result.rule).verdict];
}

/** The outcome of the whole block (QIF's InspectionStatusEnum): FAIL as soon as one bore fails, PASS only if all pass. */
export function blockStatus(result: Result): "PASS" | "FAIL" | "UNKNOWN" | "NOT_MEASURED" {
  const statuses = result.bores.map(boreStatus);
  if (statuses.includes("FAIL")) return "FAIL";
  if (statuses.every((status) => status === "NOT_ANALYZED")) return "NOT_MEASURED";
  return result.complete && statuses.every((status) => status === "PASS") ? "PASS" : "UNKNOWN";
}
