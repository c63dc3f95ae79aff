import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { plainLine } from "../../core/session/plainLine.ts";
import { canonical, pureHash, sealRecord } from "../../core/session/seal.ts";

const record = fc.record({
  gauge: fc.stringMatching(/^[\w.-]{1,12}$/),
  line: fc.oneof(fc.string({ unit: "grapheme" }), fc.stringMatching(/^[ +-]?\d{0,3}\.\d{1,6}( mm)?$/)),
  n: fc.nat(),
  t: fc.oneof(fc.nat(), fc.double({ min: 0, max: 1e9, noNaN: true })),
  type: fc.constant("line"),
});

describe("a gauge's line as this program writes it", () => {
  it("is read as JSON.parse reads it", () => {
    let read = 0;
    fc.assert(
      fc.property(record, (given) => {
        const { line } = sealRecord("", given, pureHash);
        const plain = plainLine(line);
        if (plain === null) return;
        read += 1;
        expect(plain).toEqual(JSON.parse(line));
      }),
      { seed: 3, numRuns: 400 },
    );
    expect(read).toBeGreaterThan(100);
  });

  it("with any character changed, added or lost is read as JSON.parse reads it, or not at all", () => {
    const { line } = sealRecord("", { gauge: "bore", line: "+0.04105 in", n: 12, t: 507.25, type: "line" }, pureHash);
    const others = ['"', "\\", "0", "-", "e", "\t", "\u0000", "é", " ", ",", "}"];
    for (let at = 0; at <= line.length; at += 1) {
      for (const other of others) {
        for (const changed of [
          line.slice(0, at) + other + line.slice(at + 1),
          line.slice(0, at) + other + line.slice(at),
        ]) {
          const plain = plainLine(changed);
          if (plain !== null) expect(plain).toEqual(JSON.parse(changed));
        }
      }
      const shorter = line.slice(0, at) + line.slice(at + 1);
      const plain = plainLine(shorter);
      if (plain !== null) expect(plain).toEqual(JSON.parse(shorter));
    }
    expect(plainLine(line)).toEqual(JSON.parse(line));
  });
});

describe("sealing a record", () => {
  it("gives the hash and the line of its canonical JSON, wherever the seal's place among the fields is", () => {
    fc.assert(
      fc.property(
        fc.dictionary(
          fc.string().filter((key) => key !== "seal"),
          fc.jsonValue(),
        ),
        (given) => {
          const { seal, line } = sealRecord("before", given, pureHash);
          expect(seal).toBe(pureHash(`before${canonical(given)}`));
          expect(line).toBe(canonical({ ...given, seal }));
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });

  it("refuses what JSON can not hold", () => {
    expect(() => sealRecord("", { t: Number.NaN }, pureHash)).toThrow(/NaN/);
    expect(() => sealRecord("", { line: "\ud800" }, pureHash)).toThrow(/surrogate/);
  });
});
