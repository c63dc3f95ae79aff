import type { Nm } from "./nm.ts";
import { NM_PER, type Unit } from "./unit.ts";

/**
 * Prints a length (nm, signed) as a decimal of `unit` with exactly `decimals` places (0 to 9), rounded half away
 * from zero on integers, never on binary fractions. No unit is appended; zero never carries a sign.
 * With `sign: true` a positive length is printed with "+".
 */
export function formatLength(length: Nm, unit: Unit, decimals: number, sign = false): string {
  return decimalOf(length, NM_PER[unit], decimals, sign);
}

/** A length (nm, signed) in tenths, the machinist's word for 0.0001 in, printed like `formatLength` does. */
export function formatTenths(length: Nm, decimals: number, sign = false): string {
  return decimalOf(length, NM_PER.in / 10_000, decimals, sign);
}

function decimalOf(length: Nm, nmPerUnit: number, decimals: number, sign: boolean): string {
  const perUnit = BigInt(nmPerUnit);
  const scaled = BigInt(Math.abs(length)) * 10n ** BigInt(decimals);
  const rounded = (scaled * 2n + perUnit) / (perUnit * 2n);
  const digits = rounded.toString().padStart(decimals + 1, "0");
  const text = decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  if (rounded === 0n) return text;
  if (length < 0) return `-${text}`;
  return sign ? `+${text}` : text;
}
