import type { Nm } from "./nm.ts";
import { shownValue } from "./shownText.ts";
import { NM_PER, type Unit } from "./unit.ts";

/** Thrown when a text is not a length with its unit. The message says what was found and what was expected. */
export class LengthError extends Error {
  override readonly name = "LengthError";
}

const DECIMAL = /^([+-]?)(\d{1,12})?(?:\.(\d{1,15}))?$/;
const LENGTH = /^\s*([+-]?[\d.]+)\s*(in|mm|um|µm|μm)\s*$/;

/**
 * Reads a plain decimal ("+0.0018", ".5", "-12") counted in `unit` as nanometres, exactly, on scaled integers;
 * what is finer than a nanometre is rounded half away from zero.
 * Returns null when the text is not such a decimal (no exponent, no separators, no blanks).
 */
export function parseDecimal(text: string, unit: Unit): Nm | null {
  const match = DECIMAL.exec(text);
  return match === null ? null : decimalNm(match[1] ?? "", match[2] ?? "", match[3] ?? "", unit);
}

/**
 * `parseDecimal` of a decimal whose parts were found already: sign ("+", "-" or none), and the digits before and after
 * the point, at most 12 and 15.
 */
export function decimalNm(sign: string, whole: string, fraction: string, unit: Unit): Nm | null {
  if (whole === "" && fraction === "") return null;
  const perUnit = NM_PER[unit];
  let nanometres: number;
  if (whole.length + fraction.length <= 8) {
    // Every product below stays under 2^53, so doubles are exact here.
    const scale = 10 ** fraction.length;
    const scaled = Number(whole + fraction) * perUnit;
    const remainder = scaled % scale;
    nanometres = (scaled - remainder) / scale + (remainder * 2 >= scale ? 1 : 0);
  } else {
    const scale = 10n ** BigInt(fraction.length);
    const scaled = BigInt(whole + fraction) * BigInt(perUnit);
    const remainder = scaled % scale;
    nanometres = Number((scaled - remainder) / scale + (remainder * 2n >= scale ? 1n : 0n));
  }
  if (!Number.isSafeInteger(nanometres)) return null;
  return (sign === "-" && nanometres !== 0 ? -nanometres : nanometres) as Nm;
}

/**
 * Reads a length written by a person with its unit: "0.8420 in", "21.387 mm", "15 um".
 * Signed; exact to the nanometre (halves away from zero beyond that).
 * @throws LengthError when the unit is missing or the text is not a number with a unit.
 */
export function parseLength(text: string): Nm {
  const match = LENGTH.exec(text);
  if (match === null) {
    const bare = parseDecimal(text.trim(), "mm") !== null ? "the unit is missing: " : "";
    throw new LengthError(
      `${bare}found ${shownValue(text)}, expected a length with its unit such as "0.8420 in", "21.387 mm" or "15 um"`,
    );
  }
  const unit = match[2] === "in" || match[2] === "mm" ? match[2] : "um";
  const value = parseDecimal(match[1] as string, unit);
  if (value === null) {
    throw new LengthError(
      `found ${shownValue(text)}, expected one number of a size that can be measured, then in, mm or um`,
    );
  }
  return value;
}
