import { type BitSeven, bitSevenParity, SEVEN_BIT_FRAMINGS } from "./bitSevenParity.ts";
import { isMostlyText } from "./plainText.ts";

/** Fewest bytes worth judging; chance agreement with a parity over n bytes is 1 in 2^n. */
const ENOUGH_BYTES = 8;

/** What stands behind the 7 data bits, for each use of bit 7. */
const BEHIND: Readonly<Record<BitSeven, string>> = {
  even: "even parity",
  odd: "odd parity",
  mark: "two stop bits and no parity",
};

/**
 * Looks at bytes received as 8 data bits without parity and says in one sentence when they were not sent that way;
 * null when they look like text, or are too few to tell.
 *
 * A gauge with 7 data bits and even parity sends CR (three ones) as 0x8D, so its lines never end; with odd parity the
 * same happens to LF (0x8A); see `bitSevenParity`. Other bytes that are not text, more than one in eight of them, point
 * to a wrong speed.
 */
export function suspectFraming(bytes: Uint8Array): string | null {
  if (bytes.length < ENOUGH_BYTES) return null;
  const parity = bitSevenParity(bytes);
  if (parity !== null) return sentence(parity);
  if (!isMostlyText(bytes)) {
    return "What comes in is not text: the speed (baud) or the framing is probably another than the gauge's. Try the next speed.";
  }
  return null;
}

function sentence(parity: BitSeven): string {
  return `The gauge seems to send 7 data bits with ${BEHIND[parity]}, read here as 8 data bits without, so its line ends are not seen: choose ${SEVEN_BIT_FRAMINGS[parity]}.`;
}
