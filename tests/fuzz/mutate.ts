import fc from "fast-check";
import { jsonSpans } from "./jsonSpans.ts";

/** One change of a file; the numbers are taken modulo whatever there is to choose from, so that every edit is one. */
export interface Edit {
  readonly op: number;
  readonly at: number;
  readonly value: number;
}

const LARGE = 2 ** 31 - 1;
const edit = fc.record({ op: fc.nat(LARGE), at: fc.nat(LARGE), value: fc.nat(LARGE) });

/** One to four changes. */
export const someEdits = fc.array(edit, { minLength: 1, maxLength: 4 });

const deep = (open: string, close: string, levels: number) => open.repeat(levels) + close.repeat(levels);

/**
 * JSON texts that readers trip over. Not all are values that JSON can hold, and not all can be written again: that is
 * what they are for.
 */
const NASTY: readonly string[] = [
  "null",
  "true",
  "0",
  "-0",
  "-1",
  "0.1",
  "1e999",
  "-1e999",
  "1e308",
  "5e-324",
  "9007199254740993",
  "-9007199254740992",
  "123456789012345678901234567890",
  "NaN",
  "[]",
  "{}",
  '""',
  '" "',
  '"NaN"',
  '"Infinity"',
  '"__proto__"',
  '"constructor"',
  '"toString"',
  '"hasOwnProperty"',
  '"\\ud800"',
  '"\\udc00 in"',
  '"\\u0000"',
  '"line\\nend"',
  '"0 in"',
  '"-0 mm"',
  '"999999999999 in"',
  '"9007199254 mm"',
  '"-9007199254 mm"',
  '"0.000000000000001 mm"',
  '"1e3 in"',
  '"１ mm"',
  '"\\u202e\\u200b"',
  '{"__proto__":{"spare":true,"alpha":1}}',
  '{"toString":1,"valueOf":1}',
  '{"constructor":{"prototype":null}}',
  '{"length":1000000000}',
  "[null,null,null,null,null,null,null,null]",
];

/** The same, but large; one in `RARELY` of what is put in, as they take long. */
const MONSTROUS: readonly string[] = [
  deep("[", "]", 20_000),
  deep('{"a":', "}", 20_000).replace("}", "1}"),
  JSON.stringify("x".repeat(100_000)),
  JSON.stringify("0".repeat(100_000)),
  JSON.stringify("😀".repeat(20_000)),
  `[${"0,".repeat(50_000)}0]`,
  `{${Array.from({ length: 2_000 }, (_, index) => `"k${index}":{}`).join(",")}}`,
];
const RARELY = 40;

const KEYS = ['"__proto__"', '"constructor"', '"toString"', '"seal"', '"n"', '"t"', '"type"', '""', '"\\ud800"'];

const splice = (text: string, start: number, end: number, put: string) => text.slice(0, start) + put + text.slice(end);

const nasty = (number: number): string =>
  number % RARELY === 0 ? pick(MONSTROUS, Math.floor(number / RARELY)) : pick(NASTY, Math.floor(number / RARELY));

const pick = <T>(list: readonly T[], number: number): T => list[number % list.length] as T;

/** One change of a JSON text by its structure: fields put in the place of others, doubled, renamed, made monstrous. */
export function editJson(text: string, { op, at, value }: Edit): string {
  const spans = jsonSpans(text);
  const of = (kind: "value" | "member" | "key") => spans.filter((span) => span.kind === kind);
  const values = of("value");
  const members = of("member");
  const keys = of("key");
  if (values.length === 0) return text;
  const one = pick(values, at);
  switch (op % 8) {
    case 0:
    case 1:
    case 2:
      return splice(text, one.start, one.end, nasty(value));
    case 3: {
      const other = pick(values, value);
      return splice(text, one.start, one.end, text.slice(other.start, other.end));
    }
    case 4: {
      if (members.length === 0) return text;
      // A field twice, the second time with another value.
      const member = pick(members, at);
      const key = /^"(?:[^"\\]|\\.)*"\s*:/.exec(text.slice(member.start, member.end))?.[0] ?? "";
      return splice(text, member.end, member.end, `,${key}${nasty(value)}`);
    }
    case 5: {
      if (members.length === 0) return text;
      const { start, end } = pick(members, at);
      if (text[end] === ",") return splice(text, start, end + 1, "");
      return splice(text, text[start - 1] === "," ? start - 1 : start, end, "");
    }
    case 6: {
      if (keys.length === 0) return text;
      const { start, end } = pick(keys, at);
      const other = pick(keys, value);
      return splice(text, start, end, value % 2 === 0 ? pick(KEYS, value >> 1) : text.slice(other.start, other.end));
    }
    default: {
      // A small number made another small number, in digits: a value that may well make sense.
      const numbers = values.filter(({ start, end }) => /^-?\d{1,9}$/.test(text.slice(start, end)));
      if (numbers.length === 0) return splice(text, one.start, one.end, nasty(value));
      const { start, end } = pick(numbers, at);
      return splice(text, start, end, String(Number(text.slice(start, end)) + (value % 5) - 2));
    }
  }
}

/** One change of a line file: lines dropped, doubled, exchanged, cut, one of another file put in, or one's JSON edited. */
export function editLines(lines: readonly string[], change: Edit, other: readonly string[]): string[] {
  const { op, at, value } = change;
  const index = at % Math.max(1, lines.length);
  const line = lines[index] ?? "";
  const changed = [...lines];
  switch (op % 10) {
    case 0:
      changed.splice(index, 1 + (value % 3));
      return changed;
    case 1:
      changed.splice(index, 0, line);
      return changed;
    case 2: {
      const second = value % Math.max(1, lines.length);
      changed[index] = lines[second] ?? "";
      changed[second] = line;
      return changed;
    }
    case 3:
      changed.splice(index, 0, pick(other, value));
      return changed;
    case 4:
      return changed.slice(0, index);
    case 5:
      changed[index] = line.slice(0, value % (line.length + 1));
      return changed;
    case 6:
      changed[index] = nasty(value);
      return changed;
    default:
      changed[index] = editJson(line, { op: Math.floor(op / 10), at: value, value: at });
      return changed;
  }
}

const SPECIAL = [0x00, 0x0a, 0x0d, 0x22, 0x2c, 0x2d, 0x5c, 0x7b, 0x7d, 0x80, 0xc0, 0xed, 0xef, 0xff];

/** One change of bytes: a bit turned, a byte replaced, pieces dropped, doubled, moved, cut off, or taken from another file. */
export function editBytes(bytes: Uint8Array, { op, at, value }: Edit, other: Uint8Array): Uint8Array {
  const place = at % Math.max(1, bytes.length);
  const some = 1 + (value % 64);
  const join = (...parts: readonly Uint8Array[]) => new Uint8Array(Buffer.concat(parts));
  switch (op % 8) {
    case 0:
    case 1: {
      const copy = bytes.slice();
      copy[place] = (copy[place] ?? 0) ^ (1 << (value % 8));
      return copy;
    }
    case 2: {
      const copy = bytes.slice();
      copy[place] = pick(SPECIAL, value);
      return copy;
    }
    case 3:
      return join(bytes.subarray(0, place), Uint8Array.of(pick(SPECIAL, value)), bytes.subarray(place));
    case 4:
      return join(bytes.subarray(0, place), bytes.subarray(place + some));
    case 5:
      return join(bytes.subarray(0, place + some), bytes.subarray(place));
    case 6:
      return bytes.slice(0, place);
    default: {
      const from = value % Math.max(1, other.length);
      return join(bytes.subarray(0, place), other.subarray(from, from + some * 8), bytes.subarray(place));
    }
  }
}
