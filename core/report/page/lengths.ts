import { formatLength } from "../../length/formatLength.ts";
import { toNm } from "../../length/nm.ts";
import { type Markup, markup } from "./markup.ts";

/** Which of the two units stands first and in bold; the other one stands beside it. */
export type UnitFirst = "in" | "um";

/**
 * `difference`: clearance, uncertainty, reading: inches to a tenth of 0.0001 in, micrometres to a tenth.
 * `diameter`: inches to the same place, millimetres to a tenth of a micrometre.
 */
export type LengthKind = "difference" | "diameter";

const NONE = "–";
/** Keeps a figure and its unit on one line. */
const NBSP = "\u00a0";

/** A length (nm, signed) in inches with five places, a true minus sign; a dash for none. */
export function inches(nm: number | null): string {
  return nm === null ? NONE : formatLength(toNm(nm), "in", 5).replace("-", "−");
}

/** A length (nm, signed) in micrometres with one place; a dash for none. */
export function micrometres(nm: number | null): string {
  return nm === null ? NONE : formatLength(toNm(nm), "um", 1).replace("-", "−");
}

/** A length (nm, signed) in millimetres with four places; a dash for none. */
export function millimetres(nm: number | null): string {
  return nm === null ? NONE : formatLength(toNm(nm), "mm", 4).replace("-", "−");
}

const metric = (kind: LengthKind) =>
  kind === "difference" ? ({ print: micrometres, unit: "µm" } as const) : ({ print: millimetres, unit: "mm" } as const);

/** A length in both units as running text, such as "0.00155 in (39.4 µm)". */
export function bothUnits(nm: number, first: UnitFirst, kind: LengthKind = "difference"): string {
  const { print, unit } = metric(kind);
  const [one, other] = [`${inches(nm)}${NBSP}in`, `${print(nm)}${NBSP}${unit}`];
  return first === "in" ? `${one} (${other})` : `${other} (${one})`;
}

/** From one length to another in both units as running text. */
export function rangeText(lowNm: number, highNm: number, first: UnitFirst, kind: LengthKind = "difference"): string {
  const { print, unit } = metric(kind);
  const [one, other] = [
    `${inches(lowNm)} to ${inches(highNm)}${NBSP}in`,
    `${print(lowNm)} to ${print(highNm)}${NBSP}${unit}`,
  ];
  return first === "in" ? `${one} (${other})` : `${other} (${one})`;
}

/** Two cells of a table: the length in either unit. */
export function lengthCells(nm: number | null, first: UnitFirst, kind: LengthKind = "difference", span = 1): Markup {
  const { print } = metric(kind);
  const [one, other] = first === "in" ? [inches(nm), print(nm)] : [print(nm), inches(nm)];
  const rows = span === 1 ? null : markup` rowspan="${span}"`;
  return markup`<td class="n first"${rows}>${one}</td><td class="n"${rows}>${other}</td>`;
}

/** The heads over such cells: the name in the first row, the units in the second. */
export function lengthHead(name: string): Markup {
  return markup`<th colspan="2" class="mid">${name}</th>`;
}
export function unitHeads(first: UnitFirst, kind: LengthKind = "difference"): Markup {
  const { unit } = metric(kind);
  const [one, other] = first === "in" ? ["in", unit] : [unit, "in"];
  return markup`<th class="n">${one}</th><th class="n">${other}</th>`;
}
