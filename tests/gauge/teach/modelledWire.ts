import { asEightBits, checkParity, sevenBitParity } from "../../../core/gauge/sevenBits.ts";

/**
 * A model of a serial line between a gauge and a receiver of another speed or framing, bit by bit: what a
 * pseudo-terminal does not do. The sender puts start bit, data (lowest first), parity and stop bits on the line; the
 * receiver waits for a fall, samples the middle of each of its own bits, and delivers the byte whatever its stop bit is.
 * Where the stop bit is low it takes that low for the next start, as common receivers do. A receiver of 7 data bits gives
 * the seven; where a parity stands beside them it is received as an eighth and looked at, as the program's port does.
 */
export interface Line {
  readonly baud: number;
  /** Data bits, parity, stop bits, such as "7E2". */
  readonly framing: string;
}

const shape = (framing: string) => ({
  data: Number(framing[0]),
  parity: framing[1] as "N" | "E" | "O",
  stops: Number(framing[2]),
});

/** Levels on the line, one a sender's bit: 1 is idle. */
function levelsOf(text: string, { framing }: Line): number[] {
  const { data, parity, stops } = shape(framing);
  const levels: number[] = [];
  for (const character of text) {
    const code = character.charCodeAt(0);
    const bits = Array.from({ length: data }, (_, bit) => (code >> bit) & 1);
    const ones = bits.reduce((sum, bit) => sum + bit, 0);
    levels.push(0, ...bits);
    if (parity !== "N") levels.push(parity === "E" ? ones % 2 : 1 - (ones % 2));
    levels.push(...Array<number>(stops).fill(1));
  }
  return levels;
}

/** The bytes that a receiver gets of text sent without pause between its characters. */
export function throughWire(text: string, sender: Line, receiver: Line): Uint8Array {
  const levels = levelsOf(text, sender);
  const level = (time: number) => levels[Math.floor(time * sender.baud)] ?? 1;
  const looked = sevenBitParity(receiver.framing);
  const { data, parity } = shape(looked === null ? receiver.framing : asEightBits(receiver.framing));
  const bit = 1 / receiver.baud;
  const end = levels.length / sender.baud;
  const bytes: number[] = [];
  // Looks for the fall of a start bit as closely as receivers do, sixteen times a bit.
  const look = Math.min(bit, 1 / sender.baud) / 16;
  let time = 0;
  while (time < end) {
    if (level(time) === 1) {
      time += look;
      continue;
    }
    let byte = 0;
    for (let index = 0; index < data; index += 1) byte |= level(time + (1.5 + index) * bit) << index;
    bytes.push(byte);
    const stop = time + (1 + data + (parity === "N" ? 0 : 1)) * bit;
    time = level(stop + 0.5 * bit) === 1 ? stop + 0.5 * bit : stop;
  }
  return looked === null ? Uint8Array.from(bytes) : checkParity(Uint8Array.from(bytes), looked);
}
