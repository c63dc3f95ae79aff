import { isText } from "./plainText.ts";

/** What bit 7 of bytes received as 8 data bits is, where it is no data: a parity of the seven below, or always set. */
export type BitSeven = "even" | "odd" | "mark";

/**
 * The framing to open a port by whose bit 7 is such. One or two stop bits can not be told from what comes, since a second
 * one looks like idle: two are named, which suit either.
 */
export const SEVEN_BIT_FRAMINGS: Readonly<Record<BitSeven, string>> = { even: "7E2", odd: "7O2", mark: "7N2" };

/**
 * The parity that bit 7 of every byte keeps, where the seven bits below it are text and it is set in one byte at least;
 * null otherwise. Chance agreement over n bytes is 1 in 2^n: the caller says how many are enough.
 */
export function bitSevenParity(bytes: Uint8Array): BitSeven | null {
  let even = 0;
  let odd = 0;
  let marked = 0;
  for (const byte of bytes) {
    if (!isText(byte & 0x7f)) return null;
    if (onesOf(byte) % 2 === 0) even += 1;
    else odd += 1;
    if (byte >= 0x80) marked += 1;
  }
  if (marked === 0) return null;
  if (even === bytes.length) return "even";
  if (odd === bytes.length) return "odd";
  return marked === bytes.length ? "mark" : null;
}

/** The same bytes as a receiver of 7 data bits would have had them. */
export function asSevenBits(bytes: Uint8Array): Uint8Array {
  return bytes.map((byte) => byte & 0x7f);
}

export function onesOf(byte: number): number {
  let ones = 0;
  for (let rest = byte; rest !== 0; rest &= rest - 1) ones += 1;
  return ones;
}
