import { LINE_FORMATS } from "../lineFormats.ts";
import { isText } from "../plainText.ts";

/** Whole readings in a row before they are believed to have no line end between them. */
const ENOUGH = 3;

/**
 * Whether bytes without a line end are readings sent one after the other, each with its sign: the first and the last may
 * be cut. Without a sign in front of each no one can say where one ends.
 */
export function endlessReadings(bytes: Uint8Array): boolean {
  if (!bytes.every(isText)) return false;
  const pieces = String.fromCharCode(...bytes).split(/(?=[+-])/);
  // The channel of the next one stands at the end of each piece.
  const whole = pieces.slice(1, -1);
  return (
    whole.length >= ENOUGH &&
    whole.every((piece) => LINE_FORMATS.some(({ pattern }) => pattern.test(piece.replace(/\d{2}A$/, ""))))
  );
}
