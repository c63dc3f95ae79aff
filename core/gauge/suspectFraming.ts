/** Fewest bytes worth judging; chance agreement with a parity over n bytes is 1 in 2^n. */
const ENOUGH_BYTES = 8;

/**
 * Looks at bytes received as 8 data bits without parity and says in one sentence when they were not sent that way;
 * null when they look like text, or are too few to tell.
 *
 * A gauge with 7 data bits and even parity sends CR (three ones) as 0x8D, so its lines never end; with odd parity the
 * same happens to LF (0x8A). Recognised when bit 7 makes the ones of every byte even (or odd) and the low seven bits
 * are text. A second stop bit can not be told from idle, so the sentence leaves that open. Other bytes that are not
 * text, more than one in eight of them, point to a wrong speed.
 */
export function suspectFraming(bytes: Uint8Array): string | null {
  if (bytes.length < ENOUGH_BYTES) return null;
  let even = 0;
  let odd = 0;
  let marked = 0;
  let textInSeven = 0;
  let text = 0;
  for (const byte of bytes) {
    if (onesOf(byte) % 2 === 0) even += 1;
    else odd += 1;
    if (byte >= 0x80) marked += 1;
    if (isText(byte & 0x7f)) textInSeven += 1;
    if (isText(byte)) text += 1;
  }
  const all = bytes.length;
  if (marked > 0 && textInSeven === all) {
    if (even === all) return sentence("even", "7E1");
    if (odd === all) return sentence("odd", "7O1");
    if (marked === all) return sentence("mark", "7 data bits without parity and two stop bits (7N2)");
  }
  if ((all - text) * 8 > all) {
    return "What comes in is not text: the speed (baud) or the framing is probably another than the gauge's. Try the next speed.";
  }
  return null;
}

function sentence(parity: string, choose: string): string {
  return `The gauge seems to send 7 data bits with ${parity} parity, read here as 8 data bits without, so its line ends are not seen: choose ${choose}.`;
}

function isText(code: number): boolean {
  return (code >= 0x20 && code < 0x7f) || code === 0x0d || code === 0x0a || code === 0x09;
}

function onesOf(byte: number): number {
  let ones = 0;
  for (let rest = byte; rest !== 0; rest &= rest - 1) ones += 1;
  return ones;
}
