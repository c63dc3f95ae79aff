import { describe, expect, it } from "vitest";
import { StudyError, type StudyReading, studyByRange, studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { varianceInterval, type WeightedMeanSquare } from "../../core/fit/studyIntervals.ts";
import { Random } from "./simulatedBlock.ts";
import { simulateStudy } from "./simulatedStudy.ts";

/** Two parts by two people, twice each, small enough to be done with a pencil. */
function pencil(a1: number[], b1: number[], a2: number[], b2: number[]): StudyReading[] {
  const cell = (part: string, appraiser: string, values: number[]) =>
    values.map((value) => ({ part, appraiser, value }));
  return [...cell("p", "A", a1), ...cell("p", "B", b1), ...cell("q", "A", a2), ...cell("q", "B", b2)];
}

/** 1/d2* of two as the manual's tables print it, to four places (memory). */
const PRINTED_OF_TWO = 7071 / 10_000;

describe("a study done with a pencil (derived)", () => {
  // Means of cells 2, 3, 6, 9; of parts 2.5 and 7.5; of people 4 and 6; of all 5. Every cell is 1 off its mean, twice.
  const readings = pencil([1, 3], [2, 4], [5, 7], [8, 10]);
  const study = () => studyByVariance(readings, { band: 30 });

  it("table: 50, 8 and 2 with a degree of freedom each, 8 with four", () => {
    const rows = study().table.map(({ source, sumSquares, degreesOfFreedom, meanSquare }) => [
      source,
      sumSquares,
      degreesOfFreedom,
      meanSquare,
    ]);
    expect(rows).toEqual([
      ["part", 50, 1, 50],
      ["appraiser", 8, 1, 8],
      ["interaction", 2, 1, 2],
      ["repeatability", 8, 4, 2],
    ]);
  });

  it("F of the interaction is 1, likely by chance, so parts and people are taken over both: 50 and 8 over 10/5", () => {
    expect(study().pooled).toBe(true);
    expect(study().table.map(({ f }) => f)).toEqual([25, 4, 1, null]);
    const [part, appraiser, interaction, repeatability] = study().table;
    expect(part?.p).toBeCloseTo(0.00410471598, 9);
    expect(appraiser?.p).toBeCloseTo(0.1019394788, 9);
    expect(interaction?.p).toBeCloseTo(0.3739009663, 9);
    expect(repeatability?.p).toBeNull();
  });

  it("variances 2, (8−2)/4, none and (50−2)/4: 3.5 of the gauge and 12 of the parts, two categories", () => {
    const variances = [study().repeatability, study().appraiser, study().interaction, study().reproducibility].map(
      ({ deviation }) => deviation ** 2,
    );
    expect(variances).toEqual([2, 1.5, 0, 1.5].map((variance) => expect.closeTo(variance, 12)));
    expect(study().gauge.deviation).toBeCloseTo(Math.sqrt(3.5), 12);
    expect(study().part.deviation).toBeCloseTo(Math.sqrt(12), 12);
    expect(study().total.deviation).toBeCloseTo(Math.sqrt(15.5), 12);
    expect(study().part.shareOfVariance).toBeCloseTo(12 / 15.5, 12);
    expect(study().part.shareOfStudy).toBeCloseTo(Math.sqrt(12 / 15.5), 12);
    expect(study().gauge.shareOfBand).toBeCloseTo((6 * Math.sqrt(3.5)) / 30, 12);
    expect(study().categories).toBe(2);
    expect(study().method).toBe("analysis of variance");
  });

  it("intervals from the mean squares that each component is made of", () => {
    const square = (meanSquare: number, coefficient: number, degreesOfFreedom: number) => ({
      meanSquare,
      coefficient,
      degreesOfFreedom,
    });
    const rootsOf = (terms: readonly WeightedMeanSquare[], confidence = 0.95) => {
      const { low, high } = varianceInterval(terms, confidence);
      return { low: expect.closeTo(Math.sqrt(low), 9), high: expect.closeTo(Math.sqrt(high), 9) };
    };
    expect(study().repeatability.interval).toEqual(rootsOf([square(2, 1, 5)]));
    expect(study().appraiser.interval).toEqual(rootsOf([square(8, 1 / 4, 1), square(2, -1 / 4, 5)]));
    expect(study().reproducibility.interval).toEqual(study().appraiser.interval);
    expect(study().interaction.interval).toBeNull();
    expect(study().part.interval).toEqual(rootsOf([square(50, 1 / 4, 1), square(2, -1 / 4, 5)]));
    // The error enters once, with what is left of its coefficients.
    expect(study().gauge.interval).toEqual(rootsOf([square(8, 1 / 4, 1), square(2, 3 / 4, 5)]));
    expect(study().total.interval).toEqual(rootsOf([square(50, 1 / 4, 1), square(8, 1 / 4, 1), square(2, 1 / 2, 5)]));
    const bolder = studyByVariance(readings, { band: null, confidence: 0.8 });
    expect(bolder.repeatability.interval).toEqual(rootsOf([square(2, 1, 5)], 0.8));
  });

  it("where two people disagree about parts (means 2, 26, 6, 22) the interaction stays, and the others are judged by it", () => {
    const crossed = studyByVariance(pencil([1, 3], [5, 7], [25, 27], [21, 23]), { band: null });
    expect(crossed.pooled).toBe(false);
    expect(crossed.table.map(({ sumSquares }) => sumSquares)).toEqual([800, 0, 32, 8]);
    expect(crossed.table.map(({ f }) => f)).toEqual([25, 0, 16, null]);
    expect(crossed.table[2]?.p).toBeCloseTo(0.0161300899, 9);
    expect(crossed.table[0]?.p).toBeCloseTo(0.1256659164, 9);
    const variances = [crossed.repeatability, crossed.appraiser, crossed.interaction, crossed.reproducibility].map(
      ({ deviation }) => deviation ** 2,
    );
    // 2; (0 − 32)/4 is below nothing; (32 − 2)/2; both together.
    expect(variances).toEqual([2, 0, 15, 15].map((variance) => expect.closeTo(variance, 12)));
    expect(crossed.part.deviation ** 2).toBeCloseTo((800 - 32) / 4, 9);
    expect(crossed.gauge.deviation ** 2).toBeCloseTo(17, 12);
    expect(crossed.gauge.shareOfBand).toBeNull();
    expect(crossed.interaction.interval).not.toBeNull();
    expect(crossed.categories).toBe(Math.floor(1.41 * Math.sqrt(192 / 17)));
  });

  it("by averages and ranges: every range 2, people 2 apart, parts 5 apart, factors 0.8862 and 0.7071 (memory)", () => {
    const found = studyByRange(readings, { band: 30 });
    expect(found.method).toBe("average and range");
    expect(found.repeatability.deviation).toBeCloseTo(2 * 0.8862, 9);
    expect(found.reproducibility.deviation ** 2).toBeCloseTo((2 * PRINTED_OF_TWO) ** 2 - (2 * 0.8862) ** 2 / 4, 9);
    expect(found.part.deviation).toBeCloseTo(5 * PRINTED_OF_TWO, 9);
    expect(found.gauge.deviation).toBeCloseTo(
      Math.hypot(found.repeatability.deviation, found.reproducibility.deviation),
      12,
    );
    expect(found.total.deviation).toBeCloseTo(Math.hypot(found.gauge.deviation, found.part.deviation), 12);
    expect(found.total.shareOfVariance).toBeCloseTo(1, 12);
    expect(found.gauge.interval).toBeNull();
    expect(found.part.shareOfBand).toBeCloseTo((6 * 5 * PRINTED_OF_TWO) / 30, 9);
    expect(found.categories).toBe(2);
  });

  it("does not depend on where the scale begins, nor on the order of the readings", () => {
    const far = readings.map((each) => ({ ...each, value: each.value + 1e9 }));
    const { table } = studyByVariance(far, { band: 30 });
    expect(table.map(({ sumSquares }) => sumSquares)).toEqual([50, 8, 2, 8]);
    expect(studyByVariance([...readings].reverse(), { band: 30 }).gauge.deviation).toBeCloseTo(Math.sqrt(3.5), 12);
    expect(studyByRange(far, { band: null }).part.deviation).toBeCloseTo(5 * PRINTED_OF_TWO, 9);
  });

  it("keeps every digit of readings that are large beside their differences", () => {
    const quarters = readings.map((each) => ({ ...each, value: 2 ** 50 + each.value / 4 }));
    const { table } = studyByVariance(quarters, { band: null });
    expect(table.map(({ sumSquares }) => 16 * sumSquares)).toEqual([50, 8, 2, 8]);
    expect(studyByRange(quarters, { band: null }).part.deviation).toBeCloseTo((5 * PRINTED_OF_TWO) / 4, 12);
  });

  it("counts two sources apart though their mean squares happen to be equal", () => {
    // Parts 4 and 6, people 4 and 6, no interaction: 8 each.
    const alike = studyByVariance(pencil([2, 4], [4, 6], [4, 6], [6, 8]), { band: null });
    expect(alike.table.map(({ meanSquare }) => meanSquare)).toEqual([8, 8, 0, 2]);
    const error = { meanSquare: 8 / 5, degreesOfFreedom: 5 };
    const eight = { meanSquare: 8, degreesOfFreedom: 1 };
    const { low, high } = varianceInterval(
      [
        { ...eight, coefficient: 1 / 4 },
        { ...eight, coefficient: 1 / 4 },
        { ...error, coefficient: 1 / 2 },
      ],
      0.95,
    );
    expect(alike.total.interval?.low).toBeCloseTo(Math.sqrt(low), 9);
    expect(alike.total.interval?.high).toBeCloseTo(Math.sqrt(high), 9);
  });

  it("tests nothing and shares nothing where no reading differs from another", () => {
    const still = studyByVariance(pencil([3, 3], [3, 3], [3, 3], [3, 3]), { band: 30 });
    expect(still.table.map(({ f, p }) => [f, p])).toEqual([1, 2, 3, 4].map(() => [null, null]));
    expect(still.total).toMatchObject({ deviation: 0, shareOfStudy: 0, shareOfVariance: 0, shareOfBand: 0 });
    expect(still.categories).toBeNull();
  });

  it("has no share of a band of no width", () => {
    expect(studyByVariance(readings, { band: 0 }).gauge.shareOfBand).toBeNull();
    expect(studyByVariance(readings, { band: 1 }).gauge.shareOfBand).toBeCloseTo(6 * Math.sqrt(3.5), 12);
  });
});

describe("one person alone", () => {
  it("has parts judged by repeatability, no row of people and no interaction (parts 2, 6 apart by 1 in each)", () => {
    const alone = [1, 3, 5, 7].map((value, at) => ({ part: at < 2 ? "p" : "q", appraiser: "A", value }));
    const found = studyByVariance(alone, { band: null });
    expect(found.table).toEqual([
      { source: "part", sumSquares: 16, degreesOfFreedom: 1, meanSquare: 16, f: 8, p: expect.closeTo(0.10557, 4) },
      { source: "repeatability", sumSquares: 4, degreesOfFreedom: 2, meanSquare: 2, f: null, p: null },
    ]);
    expect(found.pooled).toBe(true);
    expect(found.part.deviation ** 2).toBeCloseTo((16 - 2) / 2, 12);
    expect(found.appraiser).toMatchObject({ deviation: 0, interval: null });
    expect(found.reproducibility.interval).toBeNull();
    expect(studyByRange(alone, { band: null }).reproducibility.deviation).toBe(0);
  });
});

describe("a study that is none", () => {
  const one = (part: string, appraiser: string, value: number) => ({ part, appraiser, value });

  it("says who measured what how often", () => {
    const uneven = [one("p", "A", 1), one("p", "A", 2), one("q", "A", 3), one("q", "A", 4), one("p", "B", 1)];
    expect(() => studyByVariance(uneven, { band: null })).toThrow(
      "B measured p 1 times, A measured p 2 times: expected the same number of measurements of every part by every person",
    );
    const once = [one("p", "A", 1), one("q", "A", 3)];
    expect(() => studyByVariance(once, { band: null })).toThrow(
      "found 2 part(s) measured 1 time(s) by each person: expected at least 2 parts, 2 times each",
    );
    expect(() => studyByRange([one("p", "A", 1), one("p", "A", 3)], { band: null })).toThrow("found 1 part(s)");
    expect(() => studyByVariance(once, { band: null })).toThrow(expect.objectContaining({ name: "StudyError" }));
  });
});

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
