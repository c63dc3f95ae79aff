import { onesOf } from "./bitSevenParity.ts";

export type Parity = "even" | "odd";

/**
 * Stands for a character that was damaged on its way: SUB of ASCII, which is there for that (ECMA-48; from memory). No
 * gauge sends it, and no line with it is a reading.
 */
export const SUBSTITUTE = 0x1a;

/** The parity of a framing with seven data bits, such as "7E2"; null where there is none or more data bits. */
export function sevenBitParity(framing: string): Parity | null {
  if (/^7E[12]$/.test(framing)) return "even";
  return /^7O[12]$/.test(framing) ? "odd" : null;
}

/**
 * The framing under which seven data bits and their parity come as one byte: they take as long as eight data bits.
 * @param framing one that has a `sevenBitParity`
 */
export const asEightBits = (framing: string): string => `8N${framing.slice(2)}`;

/** What seven data bits with parity say, received as eight: damaged characters become `SUBSTITUTE`. Two wrong bits pass. */
export function checkParity(bytes: Uint8Array, parity: Parity): Uint8Array {
  return bytes.map((byte) => (holds(byte, parity) ? byte & 0x7f : SUBSTITUTE));
}

/** Characters of seven bits with their parity in bit 7, to be sent as eight data bits. */
export function withParity(bytes: Uint8Array, parity: Parity): Uint8Array {
  return bytes.map((byte) => (holds(byte & 0x7f, parity) ? byte & 0x7f : byte | 0x80));
}

const holds = (byte: number, parity: Parity): boolean => onesOf(byte) % 2 === (parity === "even" ? 0 : 1);
