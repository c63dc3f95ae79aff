import { describe, expect, it } from "vitest";
import { LINE_FORMATS } from "../../core/gauge/lineFormats.ts";
import { toNm } from "../../core/length/nm.ts";
import { decimalsOf, type Indicator, lineOf, quantised, shown } from "../../electron/simulator/indicator.ts";

const perfect: Indicator = {
  polarity: 1,
  gain: 1,
  unit: "in",
  resolutionNm: 1_270,
  zeroSizeNm: 21_400_000,
  driftNmPerMinute: 0,
  noiseNm: 0,
  travelLowNm: -1_000_000,
  travelHighNm: 1_000_000,
  waveNm: 0,
  waveLengthNm: 400_000,
  waveStart: 0,
  line: "decimal",
  channel: "01",
  terminator: "\r",
};

describe("a simulated indicator", () => {
  it("counts from where its zero stands, in the sense and with the gain it has", () => {
    expect(shown(perfect, 21_425_400, 0, null)).toBe(25_400);
    expect(shown({ ...perfect, polarity: -1 }, 21_425_400, 0, null)).toBe(-25_400);
    // L = L0 + p·g·r, so r = 25.4 µm / 1.25.
    expect(shown({ ...perfect, gain: 1.25 }, 21_425_400, 0, null)).toBeCloseTo(20_320, 6);
  });

  it("creeps with time and stands still at the ends of its travel", () => {
    const creeping = { ...perfect, driftNmPerMinute: 30 };
    expect(shown(creeping, 21_400_000, 120_000, null)).toBe(60);
    expect(shown(creeping, 30_000_000, 120_000, null)).toBe(1_000_000);
    expect(shown(creeping, 3_000_000, 120_000, null)).toBe(-1_000_000);
  });

  it("shows whole steps of its resolution, halves away from zero", () => {
    expect(quantised(perfect, 634)).toBe(0);
    expect(quantised(perfect, 635)).toBe(1_270);
    expect(quantised(perfect, -635)).toBe(-1_270);
  });

  it.each([
    [1_270, "in", 5],
    [127, "in", 6],
    [2_540, "in", 4],
    [1_000, "mm", 3],
    [500, "mm", 4],
    [100, "mm", 4],
  ] as const)("writes steps of %d nm in %s with %d places", (resolution, unit, places) => {
    expect(decimalsOf(resolution, unit)).toBe(places);
  });

  it.each([
    ["decimal", "+0.00150", "-0.00015"],
    ["decimal-unit", "+0.00150 in", "-0.00015 in"],
    ["decimal-comma", "+0,00150", "-0,00015"],
    ["channel-tagged", "01A+0000.00150", "01A-0000.00015"],
  ] as const)("writes lines of the format %s, which that format and no other reads", (line, larger, smaller) => {
    expect(lineOf({ ...perfect, line }, toNm(38_100))).toBe(larger);
    expect(lineOf({ ...perfect, line }, toNm(-3_810))).toBe(smaller);
    for (const format of LINE_FORMATS) expect(format.pattern.test(larger)).toBe(format.name === line);
  });
});
