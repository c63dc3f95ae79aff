import { describe, expect, it } from "vitest";
import { StudyError, type StudyReading, studyByRange, studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { Random } from "./simulatedBlock.ts";
import { simulateStudy } from "./simulatedStudy.ts";

describe("gauge study", () => {
  it("keeps an interaction that chance does not explain", () => {
    const truth = { part: 3, appraiser: 0, interaction: 3, repeatability: 0.5 };
    const found = studyByVariance(simulateStudy(new Random(5), truth), { band: null });
    expect(found.pooled).toBe(false);
    expect(found.interaction.deviation).toBeGreaterThan(2);
    expect(found.table.map(({ source }) => source)).toEqual(["part", "appraiser", "interaction", "repeatability"]);
  });

  it("finds no reproducibility with one person", () => {
    const readings = simulateStudy(new Random(6), { part: 3, appraiser: 0, interaction: 0, repeatability: 1 }, 8, 1, 3);
    for (const found of [studyByVariance(readings, { band: 15 }), studyByRange(readings, { band: 15 })]) {
      expect(found.reproducibility.deviation).toBe(0);
      expect(found.gauge.deviation).toBe(found.repeatability.deviation);
      expect(found.gauge.shareOfBand).toBeCloseTo((6 * found.gauge.deviation) / 15, 12);
    }
  });

  it("cuts a negative component to nothing, and counts no categories when nothing scatters", () => {
    const equal = ["a", "b"].flatMap((part) =>
      ["x", "y"].flatMap((appraiser) => [1, 2].map(() => ({ part, appraiser, value: part === "a" ? 1 : 2 }))),
    );
    const found = studyByVariance(equal, { band: 1 });
    expect(found).toMatchObject({ categories: null });
    expect(found.gauge.deviation).toBe(0);
    const onlyNoise = simulateStudy(new Random(3), { part: 0, appraiser: 0, interaction: 0, repeatability: 1 });
    expect(studyByVariance(onlyNoise, { band: null }).categories).toBe(1);
  });

  it.each([
    ["a part measured once less", (all: StudyReading[]) => all.slice(1), "expected the same number of measurements"],
    ["one part only", (all: StudyReading[]) => all.filter(({ part }) => part === "0"), "expected at least 2 parts"],
    ["nothing", () => [], "expected at least 2 parts"],
  ])("refuses %s", (_, spoil, message) => {
    const all = simulateStudy(new Random(4), { part: 1, appraiser: 1, interaction: 0, repeatability: 1 });
    expect(() => studyByVariance(spoil(all), { band: null })).toThrow(StudyError);
    expect(() => studyByRange(spoil(all), { band: null })).toThrow(message);
  });
});
