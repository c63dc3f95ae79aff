import { describe, expect, it } from "vitest";
import { type StudyReading, studyByRange, studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { rangeFactor } from "../../core/fit/rangeFactor.ts";

// 10 parts × 3 appraisers × 3 trials of the automotive measurement-systems manual, 4th edition (read at second hand).
const ROWS: Readonly<Record<string, readonly (readonly number[])[]>> = {
  A: [
    [0.29, -0.56, 1.34, 0.47, -0.8, 0.02, 0.59, -0.31, 2.26, -1.36],
    [0.41, -0.68, 1.17, 0.5, -0.92, -0.11, 0.75, -0.2, 1.99, -1.25],
    [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31],
  ],
  B: [
    [0.08, -0.47, 1.19, 0.01, -0.56, -0.2, 0.47, -0.63, 1.8, -1.68],
    [0.25, -1.22, 0.94, 1.03, -1.2, 0.22, 0.55, 0.08, 2.12, -1.62],
    [0.07, -0.68, 1.34, 0.2, -1.28, 0.06, 0.83, -0.34, 2.19, -1.5],
  ],
  C: [
    [0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
    [-0.11, -1.13, 1.09, 0.2, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
    [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16],
  ],
};

const READINGS: StudyReading[] = Object.entries(ROWS).flatMap(([appraiser, trials]) =>
  trials.flatMap((values) => values.map((value, part) => ({ part: `${part + 1}`, appraiser, value }))),
);

describe("gauge study: the automotive measurement-systems manual, 4th edition (read at second hand)", () => {
  const study = () => studyByVariance(READINGS, { band: 6 });
  const row = (source: string) => study().table.find((each) => each.source === source);

  it("analysis of variance: the table", () => {
    expect(row("part")).toMatchObject({ degreesOfFreedom: 9 });
    expect(row("part")?.sumSquares).toBeCloseTo(88.3619, 4);
    expect(row("appraiser")).toMatchObject({ degreesOfFreedom: 2 });
    expect(row("appraiser")?.sumSquares).toBeCloseTo(3.1673, 4);
    expect(row("interaction")).toMatchObject({ degreesOfFreedom: 18 });
    expect(row("interaction")?.sumSquares).toBeCloseTo(0.359, 4);
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a published F, not a logarithm.
    expect(row("interaction")?.f).toBeCloseTo(0.434, 3);
    expect(row("interaction")?.p).toBeCloseTo(0.974, 3);
    expect(row("repeatability")).toMatchObject({ degreesOfFreedom: 60 });
    expect(row("repeatability")?.sumSquares).toBeCloseTo(2.7589, 4);
  });

  it("analysis of variance: the components, interaction pooled", () => {
    expect(study().pooled).toBe(true);
    expect(study().repeatability.deviation).toBeCloseTo(0.199933, 6);
    expect(study().reproducibility.deviation).toBeCloseTo(0.226838, 6);
    // 0.302373 is published; its own two parts give 0.302372.
    expect(study().gauge.deviation).toBeCloseTo(0.302373, 5);
    expect(study().part.deviation).toBeCloseTo(1.042327, 6);
    expect(study().categories).toBe(4);
    expect(study().gauge.shareOfBand).toBeCloseTo(0.302373, 5);
    expect(study().gauge.shareOfVariance + study().part.shareOfVariance).toBeCloseTo(1, 12);
  });

  it("averages and ranges, which count five categories on the same data", () => {
    const byRange = studyByRange(READINGS, { band: null });
    const near = (value: number, expected: number) => expect(Math.abs(value - expected)).toBeLessThan(5e-5);
    near(byRange.repeatability.deviation, 0.20188);
    near(byRange.reproducibility.deviation, 0.22963);
    near(byRange.gauge.deviation, 0.30575);
    near(byRange.part.deviation, 1.10456);
    near(byRange.total.deviation, 1.1461);
    expect(byRange.categories).toBe(5);
  });

  it("range factors d2 and d2* (memory: tables of quality-control texts)", () => {
    expect(rangeFactor(2).mean).toBeCloseTo(1.128, 3);
    expect(rangeFactor(3).mean).toBeCloseTo(1.693, 3);
    expect(rangeFactor(5).mean).toBeCloseTo(2.326, 3);
    expect(rangeFactor(10).mean).toBeCloseTo(3.078, 3);
    expect(1 / rangeFactor(2).rootMeanSquare).toBeCloseTo(Math.SQRT1_2, 4);
    expect(1 / rangeFactor(3).rootMeanSquare).toBeCloseTo(0.5231, 4);
    expect(1 / rangeFactor(10).rootMeanSquare).toBeCloseTo(0.3146, 4);
  });
});
