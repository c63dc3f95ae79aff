import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readTyped, type TypedUnit, typedLine } from "../../core/gauge/readTyped.ts";

const nm = (text: string, unit: TypedUnit) => {
  const read = readTyped(text, unit);
  return read.ok ? read.displayNm : read.why;
};

describe("readTyped", () => {
  it.each([
    ["+0.0015", "in", 38_100],
    ["0,0015", "in", 38_100],
    ["-.0002", "in", -5080],
    ["−3", "um", -3000],
    ["15", "tenths", 38_100],
    ["+1.5", "tenths", 3810],
    ["1.25 tenths", "mm", 3175],
    ["0.038 mm", "in", 38_000],
    ["38 µm", "in", 38_000],
    ["0.8427 inch", "mm", 21_404_580],
    ['0.8427"', "mm", 21_404_580],
    ["3.", "um", 3000],
    ["0", "in", 0],
    ["-0.0000", "in", 0],
  ] as const)("%s, in %s unless it says otherwise, is %i nm", (text, unit, expected) => {
    expect(nm(text, unit)).toBe(expected);
  });

  it.each([
    "",
    "  ",
    "+",
    ".",
    "1.2.3",
    "1 2",
    "1,234.5",
    "abc",
    "0.0015 furlongs",
    "1e-3",
    "--3",
    "3-",
    "12345678",
    "5 constructor",
    "5 toString",
    "5 __proto__",
  ])("refuses %j with what was expected", (text) => {
    expect(nm(text, "in")).toEqual(expect.stringMatching(/expected|too fine/));
  });

  it("writes what it read so that it is read again as the same length, whatever the unit", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -99_999, max: 99_999 }),
        fc.integer({ min: 0, max: 6 }),
        fc.constantFrom<TypedUnit>("in", "tenths", "mm", "um"),
        (digits, places, unit) => {
          const text = `${digits < 0 ? "-" : ""}${(Math.abs(digits) / 10 ** places).toFixed(places)}`;
          const read = readTyped(text, unit);
          if (!read.ok) throw new Error(read.why);
          const again = readTyped(typedLine(read), "um");
          expect(again.ok && again.displayNm).toBe(read.displayNm);
        },
      ),
      { seed: 4308, numRuns: 500 },
    );
  });
});
