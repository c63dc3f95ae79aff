import { describe, expect, it } from "vitest";
import { medianVariance } from "../../core/fit/medianVariance.ts";
import { rangeFactor } from "../../core/fit/rangeFactor.ts";
import { pooledScatter, scatterOf } from "../../core/fit/scatter.ts";

describe("scatter of some values", () => {
  it("is taken about their mean, by one less than their number", () => {
    expect(scatterOf([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({
      count: 8,
      mean: 5,
      sumSquares: 32,
      deviation: Math.sqrt(32 / 7),
    });
  });

  it("of one value is none, of two half their difference times √2", () => {
    expect(scatterOf([7])).toEqual({ count: 1, mean: 7, sumSquares: 0, deviation: 0 });
    expect(scatterOf([1, 4]).deviation).toBeCloseTo(3 / Math.SQRT2, 12);
  });

  it("of no values is refused", () => {
    expect(() => scatterOf([])).toThrow("scatter of no values: expected at least one");
  });

  it("is the same wherever the scale begins, and never negative", () => {
    const far = scatterOf([1e9 + 1, 1e9 + 2, 1e9 + 4]);
    expect(far.mean).toBeCloseTo(1e9 + 7 / 3, 6);
    expect(far.deviation).toBeCloseTo(scatterOf([1, 2, 4]).deviation, 9);
    expect(scatterOf([0.1, 0.1, 0.1]).sumSquares).toBe(0);
  });
});

describe("scatter pooled over groups (GUM 4.2.4)", () => {
  it("adds squares about each group's own mean, and each group gives up one degree of freedom", () => {
    expect(pooledScatter([[1, 3], [10, 12, 14], [], [99]])).toEqual({
      deviation: Math.sqrt((2 + 8) / 3),
      degreesOfFreedom: 3,
    });
  });

  it("of single values is unknown: none, with no degrees of freedom", () => {
    expect(pooledScatter([[1], [5], []])).toEqual({ deviation: 0, degreesOfFreedom: 0 });
    expect(pooledScatter([])).toEqual({ deviation: 0, degreesOfFreedom: 0 });
  });
});

describe("variance of a median", () => {
  it("of one or two values is that of their mean; of three 1.346 and of five 1.434 times as much (memory: tables)", () => {
    expect(medianVariance(1)).toBe(1);
    expect(medianVariance(2)).toBe(0.5);
    expect(3 * medianVariance(3)).toBeCloseTo(1.346, 3);
    expect(5 * medianVariance(5)).toBeCloseTo(1.434, 3);
  });

  it("of very many values is π/2 times as much, and the table ends close to that", () => {
    expect(26 * medianVariance(26)).toBeCloseTo(Math.PI / 2, 12);
    expect(1000 * medianVariance(1000)).toBeCloseTo(Math.PI / 2, 12);
    expect((25 * medianVariance(25)) / (Math.PI / 2)).toBeGreaterThan(0.98);
  });

  it.each([0, -1, 2.5, Number.NaN])("is not to be had of %d values", (count) => {
    expect(() => medianVariance(count)).toThrow(`median of ${count} values: expected 1 or more`);
  });
});

describe("range of normal values", () => {
  it("of two is |x − y|: 2/√π on average, √2 in the root mean square", () => {
    expect(rangeFactor(2).mean).toBeCloseTo(2 / Math.sqrt(Math.PI), 6);
    expect(rangeFactor(2).rootMeanSquare).toBeCloseTo(Math.SQRT2, 5);
  });

  it("of three is 3/√π on average", () => {
    expect(rangeFactor(3).mean).toBeCloseTo(3 / Math.sqrt(Math.PI), 6);
  });

  it.each([1, 0, 2.5])("is not to be had of %d values", (count) => {
    expect(() => rangeFactor(count)).toThrow(`range of ${count} values: expected 2 or more`);
  });
});
