import type { StationPlace } from "../../core/block/layout.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { type Result, sweepForFile } from "../../core/report/result.ts";
import type { Outcome } from "../../core/session/outcome.ts";

/** An outcome as the command line's NDJSON record, or null for what is not announced there. */
export function recordOf(outcome: Outcome): object | null {
  switch (outcome.type) {
    case "sweep":
      if (outcome.sweep.use !== "kept") return null;
      return {
        ...sweepForFile(outcome.sweep),
        type: "sweep",
        step: outcome.step,
        ...(outcome.bore === undefined ? {} : { bore: outcome.bore }),
        ...flat(outcome.place),
      };
    case "station": {
      const { t, bore, place, valueNm, spreadNm, clearanceNm, sweeps, again } = outcome;
      const kept = sweeps.filter((sweep) => sweep.use === "kept").length;
      return { type: "station", t, bore, ...flat(place), valueNm, spreadNm, clearanceNm, sweeps: kept, again };
    }
    case "zero": {
      const { valueNm, spreadNm, sweeps, held, returnNm, kind, lifter, tMs } = outcome.reference;
      const kept = sweeps.filter((sweep) => sweep.use === "kept").length;
      return {
        type: "zero",
        t: tMs,
        kind,
        lifter,
        valueNm,
        spreadNm,
        sweeps: kept,
        held,
        returnNm,
        again: outcome.again,
      };
    }
    case "notice":
    case "cured": {
      const { tMs: _raised, curedMs: _cured, ...notice } = outcome.notice;
      return { type: outcome.type, t: outcome.t, ...notice };
    }
    case "struck": {
      const { t, what, bore, place } = outcome;
      return { type: "struck", t, what, ...(bore === undefined ? {} : { bore }), ...flat(place) };
    }
    case "lifter":
    case "step-check":
    case "step":
      return outcome;
    case "opened":
    case "complete":
      return null;
  }
}

function flat(place: StationPlace | undefined): object {
  return place === undefined ? {} : { height: place.height, clock: place.clock };
}

const DECIMALS = { in: 5, mm: 4 } as const;

/** An outcome as a line for a person, or null for what needs none. Lengths in `unit`. */
export function sentenceOf(outcome: Outcome, unit: GaugeUnit): string | null {
  const length = (value: Nm, sign = false) => `${formatLength(value, unit, DECIMALS[unit], sign)} ${unit}`;
  switch (outcome.type) {
    case "lifter":
      return `lifter ${outcome.name}: ${length(outcome.diameterNm)}`;
    case "station": {
      const clearance =
        outcome.clearanceNm === null ? "no clearance: no zero holds" : `clearance ${length(outcome.clearanceNm)}`;
      return `${outcome.bore} ${placeText(outcome.place)}: ${clearance}, spread ${length(outcome.spreadNm)}${outcome.again ? ", again" : ""}`;
    }
    case "zero": {
      const { reference } = outcome;
      const what =
        reference.kind === "zero"
          ? "zero"
          : `return check: the zero ${reference.held ? "held" : "moved"}, return ${length(reference.returnNm, true)}`;
      return `${what}, reading ${length(reference.valueNm, true)}, spread ${length(reference.spreadNm)}`;
    }
    case "step-check":
      return `step check: ${outcome.text}`;
    case "struck":
      return `struck: the last ${outcome.what}${outcome.bore === undefined ? "" : ` of ${outcome.bore}`}`;
    case "notice":
      return `notice ${outcome.notice.code}: ${outcome.notice.text}`;
    case "cured":
      return `over: ${outcome.notice.code}`;
    case "step":
      return `— ${outcome.step}`;
    case "opened":
      return outcome.newBore ? `next: ${outcome.bore} ${placeText(outcome.place)}` : null;
    case "complete":
      return "the walk is complete";
    case "sweep":
      return outcome.sweep.use === "set aside" ? `sweep set aside: ${outcome.sweep.why}` : null;
  }
}

function placeText(place: StationPlace): string {
  return `${place.height} ${place.clock === "axial" ? "along the crank" : "across the crank"}`;
}

/** A result as a table for a person, ending with a line end. Lengths in `unit`. */
export function tableOf(result: Result, unit: GaugeUnit): string {
  const length = (value: number | null) => (value === null ? "-" : formatLength(value as Nm, unit, DECIMALS[unit]));
  const rows = result.bores.map((bore) => {
    const worst = Math.max(...bore.stations.map((station) => station.uncertaintyNm ?? 0));
    return [
      bore.name,
      length(bore.clearanceMinNm),
      length(bore.clearanceMaxNm),
      worst === 0 ? "-" : length(worst),
      length(bore.taperNm),
      length(bore.outOfRoundNm),
      bore.preferred ? `${bore.verdict}, preferred` : bore.verdict,
    ];
  });
  const head = ["bore", "min", "max", "U 95 %", "taper", "out-of-round", "verdict"];
  const widths = head.map((title, column) => Math.max(title.length, ...rows.map((row) => row[column]?.length ?? 0)));
  const print = (row: readonly string[]) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd();
  const { lowNm, highNm, source } = result.limits;
  return [
    `Clearances in ${unit}; limits ${length(lowNm)} to ${length(highNm)} (${source}), rule ${result.rule}.`,
    "The lifter or cam maker's sheet comes first.",
    ...(result.simulated ? ["SIMULATED gauges: this proves nothing about a block."] : []),
    print(head),
    ...rows.map(print),
    ...byHand(result),
    ...result.notices
      .filter((notice) => notice.curedT === undefined)
      .map((notice) => `notice ${notice.code}: ${notice.text}`),
    result.complete ? "The walk is complete." : "The walk is not complete.",
    "",
  ].join("\n");
}

/** What was found by hand, with oil, a line a bore; none where nothing was entered. */
function byHand({ bores }: Result): string[] {
  const felt = bores.flatMap(({ name, feel }) => {
    if (feel === undefined) return [];
    const oil = feel.oil === "" ? "" : `, ${feel.oil}`;
    const note = feel.note === "" ? "" : `: ${feel.note}`;
    return [`  ${name} ${feel.found}${oil}${note}${feel.says === null ? "" : `\n    ${feel.says}`}`];
  });
  return felt.length === 0 ? [] : ["Found by hand, with oil; it changes no verdict:", ...felt];
}
