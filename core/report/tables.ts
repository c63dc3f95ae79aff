import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import type { Result } from "./result.ts";

/** A cell as a spreadsheet should get it: numbers as numbers, null for nothing. */
export type Cell = string | number | boolean | null;

/** A table to be written out, by the host as CSV. */
export interface Table {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Cell[])[];
}

const inches = (length: number | null): Cell => (length === null ? null : Number(formatLength(length as Nm, "in", 7)));
const micrometres = (length: number | null): Cell => (length === null ? null : length / 1000);

/** One row a station: what it read, its clearance and uncertainty, in µm and in inches. */
export function stationsTable(result: Result): Table {
  return {
    columns: [
      "bore",
      "height",
      "clock",
      "sweeps kept",
      "reading (um)",
      "spread (um)",
      "clearance (um)",
      "uncertainty 95 % (um)",
      "clearance (in)",
      "uncertainty 95 % (in)",
    ],
    rows: result.bores.flatMap((bore) =>
      bore.stations.map((station) => [
        bore.name,
        station.height,
        station.clock,
        station.sweeps.filter((sweep) => sweep.use === "kept").length,
        micrometres(station.valueNm),
        micrometres(station.spreadNm),
        micrometres(station.clearanceNm),
        micrometres(station.uncertaintyNm),
        inches(station.clearanceNm),
        inches(station.uncertaintyNm),
      ]),
    ),
  };
}

/** One row a bore: smallest and largest clearance, form, verdict; what was found by hand only where anything was. */
export function boresTable(result: Result): Table {
  const felt = result.bores.some((bore) => bore.feel !== undefined);
  return {
    columns: [
      "bore",
      "clearance min (um)",
      "clearance max (um)",
      "clearance min (in)",
      "clearance max (in)",
      "taper (um)",
      "out-of-round (um)",
      "verdict",
      "preferred",
      "confidence",
      "rule",
      ...(felt ? ["by hand", "oil", "note by hand"] : []),
    ],
    rows: result.bores.map((bore) => [
      bore.name,
      micrometres(bore.clearanceMinNm),
      micrometres(bore.clearanceMaxNm),
      inches(bore.clearanceMinNm),
      inches(bore.clearanceMaxNm),
      micrometres(bore.taperNm),
      micrometres(bore.outOfRoundNm),
      bore.verdict,
      bore.preferred,
      bore.confidence,
      result.rule,
      ...(felt ? [feelWord(bore), bore.feel?.oil || null, bore.feel?.note || null] : []),
    ]),
  };
}

function feelWord({ feel }: Result["bores"][number]): string | null {
  if (feel === undefined) return null;
  if (feel.outdated === null) return feel.found;
  return `${feel.found} (${feel.outdated === "other lifter" ? `with lifter ${feel.lifter}` : "before it was last measured"})`;
}

/** One row a lifter. */
export function liftersTable(result: Result): Table {
  return {
    columns: ["lifter", "diameter (mm)", "diameter (in)", "readings"],
    rows: result.lifters.map((lifter) => [
      lifter.name,
      lifter.diameterNm / 1_000_000,
      inches(lifter.diameterNm),
      lifter.readings,
    ]),
  };
}

/** One row a sweep, struck and set-aside ones included. */
export function sweepsTable(result: Result): Table {
  return {
    columns: [
      "bore",
      "height",
      "clock",
      "time (s)",
      "smallest reading (um)",
      "turning point (um)",
      "samples",
      "use",
      "why",
      "method",
    ],
    rows: result.bores.flatMap((bore) =>
      bore.stations.flatMap((station) =>
        station.sweeps.map((sweep) => [
          bore.name,
          station.height,
          station.clock,
          sweep.t / 1000,
          micrometres(sweep.rawMinNm),
          micrometres(sweep.turningPointNm),
          sweep.samples,
          sweep.use,
          sweep.why ?? null,
          sweep.typed === true
            ? "typed by a person"
            : sweep.methodWhy === undefined
              ? sweep.method
              : `${sweep.method}: ${sweep.methodWhy}`,
        ]),
      ),
    ),
  };
}
