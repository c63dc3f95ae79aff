import { formatLength, formatTenths } from "../../../core/length/formatLength.ts";
import type { Nm } from "../../../core/length/nm.ts";
import type { ShownUnit } from "../../store/settings.ts";

/**
 * What a length is, which decides its digits: a `difference` (clearance, spread, indicator reading) is small and
 * printed to a tenth of a tenth; a `diameter` is printed in inches or millimetres even when differences are shown in
 * tenths or micrometres.
 */
export type LengthKind = "difference" | "diameter";

export interface PrintedLength {
  readonly text: string;
  readonly unit: "in" | "tenths" | "mm" | "µm";
}

/** A length (nm, signed) in the unit the person chose, with all the digits that a bench gauge can support. */
export function printLength(
  length: Nm,
  shown: ShownUnit,
  kind: LengthKind = "difference",
  sign = false,
): PrintedLength {
  if (shown === "tenths" && kind === "difference") return { text: formatTenths(length, 1, sign), unit: "tenths" };
  if (shown === "um" && kind === "difference") return { text: formatLength(length, "um", 1, sign), unit: "µm" };
  if (shown === "mm" || shown === "um") return { text: formatLength(length, "mm", 4, sign), unit: "mm" };
  return { text: formatLength(length, "in", 5, sign), unit: "in" };
}

/** The same as one text, such as "0.00155 in". */
export function lengthText(length: Nm, shown: ShownUnit, kind: LengthKind = "difference", sign = false): string {
  const printed = printLength(length, shown, kind, sign);
  return `${printed.text} ${printed.unit}`;
}
