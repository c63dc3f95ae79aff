import { asSevenBits, type BitSeven, bitSevenParity } from "../bitSevenParity.ts";
import { LINE_FORMATS } from "../lineFormats.ts";
import type { Ms } from "../ms.ts";
import { type HeardLine, LineKeeper } from "./heardLine.ts";

/** So many different bytes that all keep one parity do not do so by chance: a garbled stream repeats a few. */
const ENOUGH_KINDS = 8;

/**
 * Bytes received as 8 data bits, read as the 7 that were sent: which parity bit 7 keeps in `inStep`, and the whole lines
 * of `all`; null where they were not sent so. Believed when a line of them is a reading, or enough different bytes agree.
 */
export function readAsSeven(
  inStep: Uint8Array,
  all: Uint8Array,
  tMs: Ms,
): { readonly parity: BitSeven; readonly lines: HeardLine[] } | null {
  const parity = bitSevenParity(inStep);
  if (parity === null) return null;
  const keeper = new LineKeeper();
  const lines = keeper.push(tMs, asSevenBits(all));
  const last = keeper.quiet();
  if (last !== null) lines.push(last);
  const whole = lines.filter(({ end }) => end !== "none");
  const reads = whole.some(({ line }) => LINE_FORMATS.some(({ pattern }) => pattern.test(line)));
  return reads || new Set(inStep).size >= ENOUGH_KINDS ? { parity, lines: whole } : null;
}
