import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LINE_FORMATS } from "../../core/gauge/lineFormats.ts";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { Random } from "../../electron/simulator/random.ts";
import { DAMAGES, sendDamaged } from "../fuzz/lineDamage.ts";
import { LINE_STYLES } from "../fuzz/lineStyles.ts";
import { profileOf } from "./profileOf.ts";

const SEED = 20_261_128;

describe("a damaged line is refused, keeps its value, or is another line that its format must take", () => {
  it("every format has a style", () => {
    expect(new Set(LINE_STYLES.map(({ format }) => format))).toEqual(new Set(LINE_FORMATS.map(({ name }) => name)));
  });

  for (const style of LINE_STYLES) {
    it(`${style.name} (seed ${SEED})`, () => {
      const random = new Random(SEED);
      const fates = { refused: 0, right: 0, wrong: 0 };
      for (const damage of DAMAGES) {
        for (let run = 0; run < 80; run += 1) {
          const steps = (random.below(2) === 0 ? 1 : -1) * (2 + random.below(10 ** (1 + random.below(5))));
          fates[sendDamaged(style, steps, damage, random)] += 1;
        }
      }
      // A reader that refused everything, or nothing, would pass the above.
      expect(fates.refused).toBeGreaterThan(fates.wrong);
      expect(fates.right).toBeGreaterThan(0);
      expect(fates.wrong).toBeGreaterThan(0);
    });
  }

  it.each([
    ["decimal, always signed", ["lost", "doubled", "inserted"]],
    ["decimal, right-aligned", ["lost", "doubled", "inserted"]],
    ["decimal, filled with zeros", ["lost", "doubled", "inserted"]],
    ["decimal with unit, always signed", ["lost", "doubled", "inserted"]],
    ["decimal comma, always signed", ["lost", "doubled", "inserted"]],
    ["channel, always signed, fixed width", ["lost", "doubled", "inserted"]],
  ] as const)("%s: a character too many or too few is always noticed", (name, damages) => {
    const style = LINE_STYLES.find((each) => each.name === name);
    if (style === undefined) throw new Error(name);
    const random = new Random(SEED);
    for (const damage of damages) {
      for (let run = 0; run < 100; run += 1) {
        const steps = (random.below(2) === 0 ? 1 : -1) * (2 + random.below(30_000));
        expect(sendDamaged(style, steps, damage, random)).not.toBe("wrong");
      }
    }
  });
});

describe("any bytes in any pieces", () => {
  const byte = fc.oneof(
    fc.constantFrom(...[...'0123456789+-.,\r\n minA"'].map((character) => character.charCodeAt(0))),
    fc.integer({ min: 0, max: 255 }),
  );

  it("never throw, and give the same readings whatever the pieces", () => {
    fc.assert(
      fc.property(fc.array(byte, { maxLength: 300 }), fc.array(fc.nat(300), { maxLength: 8 }), (values, cuts) => {
        const bytes = Uint8Array.from(values);
        const readings = (pieces: readonly number[]) => {
          const splitter = new LineSplitter();
          const reader = createLineReader(profileOf());
          const ends = [...new Set([...pieces.map((cut) => cut % (bytes.length + 1)), bytes.length])];
          let at = 0;
          return ends
            .sort((one, other) => one - other)
            .flatMap((end) => {
              const lines = splitter.push(bytes.subarray(at, end));
              at = end;
              return lines;
            })
            .map((line) => reader.read(line));
        };
        expect(readings(cuts)).toEqual(readings([]));
      }),
      { seed: SEED, numRuns: 400 },
    );
  });

  it("a run of bytes that never ends is held to the length of one line", () => {
    const splitter = new LineSplitter();
    let given = 0;
    for (let piece = 0; piece < 2_000; piece += 1) {
      given += splitter.push(Uint8Array.from({ length: 512 }, (_, index) => 0x30 + ((piece + index) % 10))).length;
      expect(splitter.pending).toBeLessThanOrEqual(256);
    }
    expect(given).toBe(1);
  });

  it("a gauge on a bad cable for an hour leaves a list of notices that a person can read", () => {
    const run = new SessionRun(parseJob({ format: "borewright/job", version: 1 }));
    for (let line = 0; line < 20_000; line += 1) {
      const text = line % 2 === 0 ? "+0.00150" : `+0.0␀${line}`;
      run.apply({ type: "line", t: line * 100, gauge: "bore", line: text });
    }
    const own = run.notices.filter(({ code }) => code === "not-understood");
    expect(own.length).toBeGreaterThan(0);
    expect(own.length).toBeLessThan(100);
    expect(run.gaugeView("bore")).toMatchObject({ notUnderstood: 10_000 });
  });
});
