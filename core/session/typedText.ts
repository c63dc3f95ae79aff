import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import type { GaugeUnit } from "../length/unit.ts";

const show = (length: Nm, unit: GaugeUnit): string =>
  `${formatLength(length, unit, unit === "in" ? 5 : 4, true)} ${unit}`;

/** Why a typed reading is a slip: what was found, and what to look at. */
export const typedText = {
  far: (valueNm: Nm, zeroNm: Nm, unit: GaugeUnit) =>
    `${show(valueNm, unit)} is ${show((valueNm - zeroNm) as Nm, unit)} from the zero, which no bore of this block can be: look at sign, point and unit`,
  lifterFar: (valueNm: Nm, nominalNm: Nm, unit: GaugeUnit) =>
    `${show(valueNm, unit)} is no lifter of nominally ${show(nominalNm, unit)}: look at point and unit`,
};
