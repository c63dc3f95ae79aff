import type { GaugeUnit } from "../../core/length/unit.ts";
import type { SheetLength, ShopSheet } from "../../core/report/shopSheet.ts";
import { aligned } from "./aligned.ts";

/** The sheet for the machine shop as plain text, to be printed; ends with a line end. Lengths in `unit` first. */
export function shopSheetText(sheet: ShopSheet, unit: GaugeUnit): string {
  const length = (one: SheetLength) => (unit === "in" ? one.inches : one.mm);
  const other = (one: SheetLength) => (unit === "in" ? `${one.mm} mm` : `${one.inches} in`);
  const rows = sheet.rows.map((row) => [
    row.bore,
    row.work,
    `${length(row.now.smallest)} to ${length(row.now.largest)}`,
    row.remove === null ? "-" : `${length(row.remove.atSmallest)} / ${length(row.remove.atLargest)}`,
    `${length(row.finish.from)} to ${length(row.finish.to)}`,
    length(row.notToPass),
  ]);
  const bores = sheet.rows.flatMap((row) => [
    "",
    `Bore ${row.bore}: ${row.what}.`,
    `  for ${row.lifter === null ? "a lifter" : `lifter ${row.lifter}`} of ${length(row.lifterSize)} ${unit} (${other(row.lifterSize)}); ` +
      `clearance to it ${length(row.clearance.from)} to ${length(row.clearance.to)} ${unit}`,
    `  finish between ${length(row.finish.from)} and ${length(row.finish.to)} ${unit} (${other(row.finish.from)} and ${other(row.finish.to)})` +
      `${row.finish.to.tenths === null ? "" : `; in tenths ${row.finish.from.tenths} to ${row.finish.to.tenths} in`}`,
    `  measure again: ${row.measureAgain}`,
    ...sheet.signOff.map((line) => `  [ ] ${line}: ____________________`),
  ]);
  return [
    `SHEET FOR THE MACHINE SHOP${[sheet.title, sheet.block].map((part) => (part === "" ? "" : ` - ${part}`)).join("")}`,
    `Lengths in ${unit === "in" ? "inches" : "millimetres"}, on diameter, at 20 °C.`,
    "",
    ...(rows.length === 0
      ? ["Nothing is to be cut."]
      : aligned([["bore", "work", "now", "remove, smallest / largest", "finish between", "not to pass"], ...rows])),
    ...bores,
    "",
    ...(sheet.leaveAlone.length === 0 ? [] : [`Leave alone: ${sheet.leaveAlone.join(", ")}.`]),
    ...(sheet.open.length === 0 ? [] : ["Not settled by this sheet:"]),
    ...sheet.open.map(({ bore, why }) => `  ${bore}: ${why}`),
    ...(sheet.lookAt.length === 0 ? [] : ["Look at, for no measurement of size tells:"]),
    ...sheet.lookAt.map((what) => `  - ${what}`),
    "",
    ...sheet.explains.map((sentence) => `note: ${sentence}`),
    ...sheet.cautions.map((sentence) => `caution: ${sentence}`),
    "",
  ].join("\n");
}
