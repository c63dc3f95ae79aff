import { createLineReader, type LineReader } from "../../core/gauge/lineReader.ts";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { parseDecimal } from "../../core/length/parseLength.ts";
import type { Random } from "../../electron/simulator/random.ts";
import { profileOf } from "../gauge/profileOf.ts";
import type { LineStyle } from "./lineStyles.ts";

/** What may happen to a line on its way: one bit turned, one character replaced, lost, doubled, put in, two exchanged. */
export const DAMAGES = ["bit", "replaced", "lost", "doubled", "inserted", "exchanged"] as const;
export type Damage = (typeof DAMAGES)[number];

/** What became of a damaged line. */
export type Fate = "refused" | "right" | "wrong";

/** Thrown where a damaged line gave a number that a strict reader of its format would not have taken. */
export class TakenForANumber extends Error {
  override readonly name = "TakenForANumber";
}

const ENDS = ["\r\n", "\r", "\n"] as const;
const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

/** A byte as it gets into a line: any, or a character that lines are made of. */
function strayByte(random: Random): number {
  const plain = '0123456789+-.,\t inmINM"A';
  return random.below(2) === 0 ? random.below(256) : plain.charCodeAt(random.below(plain.length));
}

/** `bytes` with one damage at a place among the first `places`. */
export function damaged(bytes: Uint8Array, damage: Damage, places: number, random: Random): Uint8Array {
  const at = random.below(places);
  const parts = (put: readonly number[], skipped: number) =>
    Uint8Array.from([...bytes.subarray(0, at), ...put, ...bytes.subarray(at + skipped)]);
  const here = bytes[at] ?? 0;
  switch (damage) {
    case "bit":
      return parts([here ^ (1 << random.below(8))], 1);
    case "replaced":
      return parts([strayByte(random)], 1);
    case "lost":
      return parts([], 1);
    case "doubled":
      return parts([here, here], 1);
    case "inserted":
      return parts([strayByte(random)], 0);
    case "exchanged":
      return at + 1 < bytes.length ? parts([bytes[at + 1] ?? 0, here], 2) : parts([here], 1);
  }
}

/** Readers that have heard enough of a gauge to know its ways, one for each number of digits before the point. */
const taughtReaders = new Map<string, LineReader>();

function taught(style: LineStyle, steps: number, whole: number): LineReader {
  const key = `${style.name} ${whole}`;
  const known = taughtReaders.get(key);
  if (known !== undefined) return known;
  // A step that no format has, or the one of five units, which the reader then expects where it sees it.
  const reader = createLineReader(profileOf(style.fives === true ? {} : { resolutionNm: 1 as never }));
  const wide = Math.abs(steps);
  for (const lesson of [...Array.from({ length: 14 }, (_, index) => index * 3 + 1), -2, -5, wide, wide, -wide, -wide]) {
    reader.read(style.write(lesson));
  }
  taughtReaders.set(key, reader);
  return reader;
}

/**
 * Sends three lines, the middle one damaged, cut into pieces anywhere; says what became of it.
 * @throws TakenForANumber when a number came of it that the format's strictest reader would not take.
 */
export function sendDamaged(style: LineStyle, steps: number, damage: Damage, random: Random): Fate {
  const end = ENDS[random.below(ENDS.length)] ?? "\r";
  const neighbours = [steps > 0 ? steps + 1 : steps - 1, steps > 1 ? steps - 1 : steps + 1].filter(
    (near) => String(Math.abs(near)).length === String(Math.abs(steps)).length,
  );
  const [before = steps, after = steps] = neighbours;
  const whole = (/\d+/.exec(style.write(steps).replace(/^\d\dA/, ""))?.[0] ?? "").length;
  const reader = taught(style, steps, whole);
  const line = `${style.write(steps)}${end}`;
  const hurt = damaged(bytesOf(line), damage, line.length, random);
  const lead = bytesOf(`${style.write(before)}${end}`);
  const bytes = Uint8Array.from([...lead, ...hurt, ...bytesOf(`${style.write(after)}${end}`)]);
  const readings = linesIn(bytes, random).map((text) => ({ text, read: reader.read(text) }));
  // What the damage began to teach is forgotten again.
  for (let good = 0; good < 2; good += 1) reader.read(style.write(steps));

  const expected = [before, steps, after].map((each) => displayedNm(style, each));
  const strict = style.strict(whole);
  const values: number[] = [];
  for (const { text, read } of readings) {
    if (!read.ok) continue;
    if (!strict.test(text) && !expected.includes(read.displayNm)) {
      throw new TakenForANumber(
        `${style.name}: ${JSON.stringify(style.write(steps))} became ${JSON.stringify(text)} (${damage}) and was read as ${read.displayNm} nm`,
      );
    }
    values.push(read.displayNm);
  }
  return fateOf(values, expected);
}

function linesIn(bytes: Uint8Array, random: Random): string[] {
  const splitter = new LineSplitter();
  const cut = random.below(bytes.length + 1);
  return [...splitter.push(bytes.subarray(0, cut)), ...splitter.push(bytes.subarray(cut))];
}

/** What a line of these steps says, nm, taken apart by other means than the reader's. */
function displayedNm(style: LineStyle, steps: number): number {
  const line = style.write(steps);
  const [number = ""] = /[+-]?\d+[.,]\d+/.exec(line) ?? [];
  const value = parseDecimal(number.replace(",", "."), line.includes("mm") ? "mm" : "in");
  if (value === null) throw new Error(`not a number: ${line}`);
  return value;
}

/** Right when what should have been read was; refused when some of it was not; wrong when there is a number besides. */
function fateOf(got: readonly number[], [before, own, after]: readonly number[]): Fate {
  const list = [before, own, after];
  let at = 0;
  for (const value of got) {
    const found = list.indexOf(value, at);
    if (found === -1) return "wrong";
    at = found + 1;
  }
  return got.length === list.length ? "right" : "refused";
}
