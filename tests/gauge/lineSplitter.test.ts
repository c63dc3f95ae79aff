import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { bytesOfLine, NOT_PLAIN, SHOWN_BYTES } from "../../core/gauge/shownByte.ts";
import { profileOf } from "./profileOf.ts";

const bytesOf = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));

/** Feeds `bytes` in the given pieces and flushes; the lines in order. */
function linesOf(pieces: Iterable<Uint8Array>, longest?: number): string[] {
  const splitter = new LineSplitter(longest);
  const lines: string[] = [];
  for (const piece of pieces) lines.push(...splitter.push(piece));
  const last = splitter.flush();
  return last === null ? lines : [...lines, last];
}

const oneByOne = (bytes: Uint8Array) => Array.from(bytes, (byte) => Uint8Array.of(byte));

function cutAt(bytes: Uint8Array, cuts: readonly number[]): Uint8Array[] {
  const at = [...new Set([0, ...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length])].sort((a, b) => a - b);
  return at.slice(1).map((end, index) => bytes.subarray(at[index], end));
}

const CAPTURES: Record<string, { text: string; lines: string[] }> = {
  CR: { text: "+0.00150\r-0.00015\r", lines: ["+0.00150", "-0.00015"] },
  LF: { text: "+0.00150\n-0.00015\n", lines: ["+0.00150", "-0.00015"] },
  "CR LF": { text: "+0.00150\r\n-0.00015\r\n", lines: ["+0.00150", "-0.00015"] },
  "LF CR": { text: "+0.00150\n\r-0.00015\n\r", lines: ["+0.00150", "-0.00015"] },
  mixed: { text: "\r\n1.5\r2.5\n3.5\r\n\r\n4.5", lines: ["1.5", "2.5", "3.5", "4.5"] },
  "no end at all": { text: "+0.00150", lines: ["+0.00150"] },
  "channel-tagged": { text: "01A+0000.1234\r01A-0000.0005\r", lines: ["01A+0000.1234", "01A-0000.0005"] },
  "decimal comma and blanks": { text: "  21,387 mm \r\n\t-0,012 mm\r\n", lines: ["  21,387 mm ", "\t-0,012 mm"] },
  "a NUL and a parity bit": { text: "+0.0\x0015\x8d\xb1\r", lines: ["+0.0␀15‹8D›±"] },
};

describe("LineSplitter", () => {
  describe("gives the same lines however the bytes are cut", () => {
    for (const [name, { text, lines }] of Object.entries(CAPTURES)) {
      it(name, () => {
        const bytes = bytesOf(text);
        expect(linesOf([bytes])).toEqual(lines);
        expect(linesOf(oneByOne(bytes))).toEqual(lines);
        for (let cut = 0; cut <= bytes.length; cut += 1) expect(linesOf(cutAt(bytes, [cut]))).toEqual(lines);
      });
    }

    it("any bytes in any pieces, with a short cap", () => {
      const byte = fc.oneof(fc.constantFrom(0x0d, 0x0a, 0x30, 0x2e), fc.integer({ min: 0, max: 255 }));
      fc.assert(
        fc.property(fc.array(byte, { maxLength: 80 }), fc.array(fc.nat(200), { maxLength: 12 }), (values, cuts) => {
          const bytes = Uint8Array.from(values);
          const whole = linesOf([bytes], 10);
          expect(linesOf(cutAt(bytes, cuts), 10)).toEqual(whole);
          expect(linesOf(oneByOne(bytes), 10)).toEqual(whole);
        }),
        { seed: 4201, numRuns: 2000 },
      );
    });
  });

  it("a CR ending one piece and an LF beginning the next are one line end", () => {
    const splitter = new LineSplitter();
    expect(splitter.push(bytesOf("0.0015\r"))).toEqual(["0.0015"]);
    expect(splitter.push(bytesOf("\n0.0016\r"))).toEqual(["0.0016"]);
    expect(splitter.push(bytesOf("\n"))).toEqual([]);
    expect(splitter.flush()).toBeNull();
  });

  it("counts what is begun, and gives it out on silence", () => {
    const splitter = new LineSplitter();
    expect(splitter.push(bytesOf("0.00"))).toEqual([]);
    expect(splitter.pending).toBe(4);
    expect(splitter.push(bytesOf("15"))).toEqual([]);
    expect(splitter.flush()).toBe("0.0015");
    expect(splitter.pending).toBe(0);
    expect(splitter.flush()).toBeNull();
    expect(splitter.push(bytesOf("\r\n0.0016\r"))).toEqual(["0.0016"]);
  });

  it("takes a line of exactly the cap whole, and one byte more as cut off", () => {
    expect(linesOf([bytesOf(`${"1".repeat(8)}\r2.5\r`)], 8)).toEqual(["11111111", "2.5"]);
    expect(linesOf([bytesOf(`${"1".repeat(9)}\r2.5\r`)], 8)).toEqual(["11111111…", "2.5"]);
  });

  it("makes one refused line of an overlong run, however long, and reads on behind it", () => {
    const splitter = new LineSplitter();
    const run = splitter.push(bytesOf("+0.00150".repeat(2000)));
    expect(run).toHaveLength(1);
    expect(run[0]).toHaveLength(257);
    expect(splitter.pending).toBe(0);
    expect(splitter.push(bytesOf("+0.00150\r+0.00155\r"))).toEqual(["+0.00155"]);
    const cut = createLineReader(profileOf()).read(run[0] as string);
    expect(cut).toEqual({ ok: false, why: expect.stringContaining("cut off") });
  });

  it("never lets a cut-off number pass for a number", () => {
    for (let longest = 1; longest < 12; longest += 1) {
      const [first] = linesOf([bytesOf("+0.001500000000")], longest);
      expect(createLineReader(profileOf()).read(first as string).ok).toBe(false);
    }
  });

  it("refuses a cap that is no length", () => {
    expect(() => new LineSplitter(0)).toThrow(RangeError);
    expect(() => new LineSplitter(2.5)).toThrow(RangeError);
  });
});

describe("bytes shown in a line", () => {
  it("every byte has its own text, and any bytes can be had back", () => {
    expect(new Set(SHOWN_BYTES).size).toBe(256);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        const shown = Array.from(bytes, (byte) => SHOWN_BYTES[byte]).join("");
        expect(bytesOfLine(shown)).toEqual(bytes);
      }),
      { seed: 4202, numRuns: 1000 },
    );
  });

  it("only the bytes of plain text look plain", () => {
    for (const [byte, shown] of SHOWN_BYTES.entries()) {
      expect(NOT_PLAIN.test(shown)).toBe(!(byte === 9 || (byte >= 0x20 && byte < 0x7f)));
    }
  });
});
