import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import { parseDecimal } from "../length/parseLength.ts";
import type { GaugeUnit } from "../length/unit.ts";

/** Units in which a person may type a reading; `tenths` are ten-thousandths of an inch. */
export type TypedUnit = "in" | "tenths" | "mm" | "um";

/** A typed reading understood: as displayed, nm, signed, before polarity; or why it is none and what was expected. */
export type TypedReading =
  | { readonly ok: true; readonly displayNm: Nm; readonly unit: TypedUnit }
  | { readonly ok: false; readonly why: string };

const PATTERN = /^(?<sign>[+\-\u2212]?)(?<whole>\d{0,7})(?:[.,](?<fraction>\d{0,7}))?\s*(?<mark>[^\d.,\s+-][^\d]*)?$/i;

const MARKS: ReadonlyMap<string, TypedUnit> = new Map([
  ["in", "in"],
  ["inch", "in"],
  ['"', "in"],
  ["tenths", "tenths"],
  ["mm", "mm"],
  ["um", "um"],
  ["\u00b5m", "um"],
  ["\u03bcm", "um"],
]);

/** What a unit is of the one it is counted in. */
const OF: Readonly<Record<TypedUnit, { readonly unit: GaugeUnit; readonly shift: number }>> = {
  in: { unit: "in", shift: 0 },
  tenths: { unit: "in", shift: 4 },
  mm: { unit: "mm", shift: 0 },
  um: { unit: "mm", shift: 3 },
};

/**
 * Reads what a person types off a dial or display. Point or comma; a sign may be left out and is then plus; a unit behind
 * the number goes before `unit`. Unlike a cable a person may leave decimals off: "15" is fifteen of the unit.
 */
export function readTyped(text: string, unit: TypedUnit): TypedReading {
  const trimmed = text.trim();
  if (trimmed === "") return { ok: false, why: "nothing typed; expected a reading such as +0.0015" };
  const groups = PATTERN.exec(trimmed)?.groups;
  if (groups === undefined) {
    return { ok: false, why: `found "${trimmed.slice(0, 40)}"; expected one number such as +0.0015 or -3 um` };
  }
  const { sign = "", whole = "", fraction = "", mark } = groups;
  if (whole === "" && fraction === "") return { ok: false, why: `found "${trimmed}"; expected digits` };
  const named = mark === undefined ? unit : MARKS.get(mark.trim().toLowerCase());
  if (named === undefined) {
    return { ok: false, why: `found the unit "${mark?.trim().slice(0, 20)}"; expected in, tenths, mm or um` };
  }
  const { unit: of, shift } = OF[named];
  const minus = sign === "-" || sign === "\u2212";
  const displayNm = parseDecimal(`${minus ? "-" : ""}${shifted(whole, fraction, shift)}`, of);
  if (displayNm === null) return { ok: false, why: `found "${trimmed}"; too fine or too large to be a reading` };
  return { ok: true, displayNm, unit: named };
}

/** The reading as it stands in the record: sign, digits and unit, so that it needs nobody to explain it. */
export function typedLine({ displayNm, unit }: Extract<TypedReading, { ok: true }>): string {
  const inches = formatLength(displayNm, "in", 7, true);
  // What is no whole number of 0.1 µin stands in millimetres, where every nanometre can be written.
  return (unit === "in" || unit === "tenths") && parseDecimal(inches, "in") === displayNm
    ? `${inches.replace(/0{1,3}$/, "")} in`
    : `${formatLength(displayNm, "mm", 6, true).replace(/0{1,3}$/, "")} mm`;
}

/** The number with its point moved to the left by so many places. */
function shifted(whole: string, fraction: string, places: number): string {
  const digits = whole.padStart(places + 1, "0");
  const point = digits.length - places;
  return `${digits.slice(0, point)}.${digits.slice(point)}${fraction}`.replace(/\.$/, ".0");
}
