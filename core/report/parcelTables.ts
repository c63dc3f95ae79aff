import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import type { Pairing } from "./pairingSchema.ts";
import type { Cell, Table } from "./tables.ts";

const inches = (length: number): Cell => Number(formatLength(length as Nm, "in", 7));
const micrometres = (length: number): Cell => length / 1000;

/** One row a bore: the lifter that would go in beside the one it has, and what either does. */
export function pairingTable(pairing: Pairing): Table {
  return {
    columns: [
      "bore",
      "lifter",
      "moves",
      "turned",
      "clearance min (um)",
      "clearance max (um)",
      "clearance min (in)",
      "clearance max (in)",
      "verdict",
      "preferred",
      "confidence",
      "held there because",
      "lifter now",
      "clearance min now (um)",
      "clearance max now (um)",
      "verdict now",
    ],
    rows: pairing.assignments.map((assignment) => [
      assignment.bore,
      assignment.lifter,
      assignment.moves,
      assignment.turned ?? false,
      micrometres(assignment.clearanceMinNm),
      micrometres(assignment.clearanceMaxNm),
      inches(assignment.clearanceMinNm),
      inches(assignment.clearanceMaxNm),
      assignment.verdict,
      assignment.preferred,
      assignment.confidence,
      assignment.why ?? null,
      assignment.before.lifter,
      micrometres(assignment.before.clearanceMinNm),
      micrometres(assignment.before.clearanceMaxNm),
      assignment.before.verdict,
    ]),
  };
}
