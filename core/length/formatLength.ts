import type { Nm } from "./nm.ts";
import { NM_PER, type Unit } from "./unit.ts";

/**
 * Prints a length (nm, signed) as a decimal of `unit` with exactly `decimals` places (0 to 9), rounded half away
 * from zero on integers, never on binary fractions. No unit is appended; zero never carries a sign.
 * With `sign: true` a positive length is printed with "+".
 */
export function formatLength(length: Nm, unit: Unit, decimals: number, sign = false): string {
  const perUnit = BigInt(NM_PER[unit]);
  const scaled = BigInt(Math.abs(length)) * 10n ** BigInt(decimals);
  const rounded = (scaled * 2n + perUnit) / (perUnit * 2n);
  const digits = rounded.toString().padStart(decimals + 1, "0");
  const text = decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  if (rounded === 0n) return text;
  if (length < 0) return `-${text}`;
  return sign ? `+${text}` : text;
}

/** A length (nm, signed) in tenths, the machinist's word for 0.0001 in, with `decimals` places. */
export function formatTenths(length: Nm, decimals: number, sign = false): string {
  // 1 tenth = 0.0001 in, so the digits of inches with four more places, the point moved by four.
  const perTenth = BigInt(NM_PER.in) / 10_000n;
  const scaled = BigInt(Math.abs(length)) * 10n ** BigInt(decimals);
  const rounded = (scaled * 2n + perTenth) / (perTenth * 2n);
  const digits = rounded.toString().padStart(decimals + 1, "0");
  const text = decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  if (rounded === 0n) return text;
  if (length < 0) return `-${text}`;
  return sign ? `+${text}` : text;
}
