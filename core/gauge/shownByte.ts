/**
 * How a received byte is shown in a line: as latin1 where that is visible, so that nothing a gauge sent is lost or
 * repaired and a person can see what does not belong. Control characters become their pictures (NUL is "␀"), bytes
 * 0x80 to 0x9F, which latin1 leaves invisible, become their hexadecimal value between guillemets ("‹8D›"). The tab
 * stays. Every byte has its own text and none is the beginning of another's, so the bytes can be had back.
 */
export const SHOWN_BYTES: readonly string[] = Array.from({ length: 256 }, (_, byte) => {
  if (byte === 0x09) return "\t";
  if (byte < 0x20) return String.fromCharCode(0x2400 + byte);
  if (byte === 0x7f) return "\u2421";
  if (byte >= 0x80 && byte < 0xa0) return `‹${byte.toString(16).toUpperCase()}›`;
  return String.fromCharCode(byte);
});

/** Stands at the end of a line that was cut off; no byte is ever shown as this character. */
export const CUT_OFF = "…";

/** Every character that plain text from a gauge does not have: control pictures, guillemets, bit 7 set, the cut mark. */
export const NOT_PLAIN = /[^\t\x20-\x7e]/;

const BYTE_OF = new Map(SHOWN_BYTES.map((shown, byte) => [shown, byte]));

/** The bytes that a line of `LineSplitter` was made of; a character that no byte is shown as (the cut mark) is left out. */
export function bytesOfLine(line: string): Uint8Array {
  const bytes: number[] = [];
  for (const [shown] of line.matchAll(/‹[0-9A-F]{2}›|[^‹]/gsu)) {
    const byte = BYTE_OF.get(shown);
    if (byte !== undefined) bytes.push(byte);
  }
  return Uint8Array.from(bytes);
}
