import { describe, expect, it } from "vitest";
import { type Interval, varianceInterval, type WeightedMeanSquare } from "../../core/fit/studyIntervals.ts";

const term = (coefficient: number, meanSquare: number, degreesOfFreedom: number): WeightedMeanSquare => ({
  coefficient,
  meanSquare,
  degreesOfFreedom,
});

function expectInterval(found: Interval, low: number, high: number) {
  expect(found.low).toBeCloseTo(low, 8);
  expect(found.high).toBeCloseTo(high, 7);
}

describe("confidence interval of a component of variance", () => {
  it("of one mean square is that of chi-square: n·MS over 11.143 and 0.48442 at 4 (read: any table)", () => {
    const found = varianceInterval([term(1, 2, 4)], 0.95);
    expect(found.low).toBeCloseTo(8 / 11.1433, 5);
    expect(found.high).toBeCloseTo(8 / 0.48442, 3);
  });

  // Derived: the same formulas in forty digits, with quantiles found by bisection of the distributions' integrals.
  it("of a sum and of differences agrees with a second computation", () => {
    expectInterval(varianceInterval([term(1, 2, 4), term(0.5, 3, 6)], 0.95), 1.946586497, 19.12081432);
    const difference = [term(0.25, 50, 9), term(-0.25, 2, 5)];
    expectInterval(varianceInterval(difference, 0.95), 5.311660238, 41.14329966);
    expectInterval(varianceInterval(difference, 0.9), 6.14037298, 33.31840686);
    expectInterval(varianceInterval([term(0.25, 3, 9), term(-0.25, 2, 5)], 0.95), 0, 2.007289644);
  });

  it("does not depend on the order of its parts", () => {
    const terms = [term(0.25, 50, 9), term(-0.25, 2, 5), term(1, 3, 20)];
    const [there, back] = [varianceInterval(terms, 0.95), varianceInterval([...terms].reverse(), 0.95)];
    expect(back.low).toBeCloseTo(there.low, 9);
    expect(back.high).toBeCloseTo(there.high, 9);
  });

  it("grows with confidence, and with the square of the unit", () => {
    const terms = [term(0.25, 50, 9), term(-0.25, 2, 5)];
    const inMils = terms.map((each) => ({ ...each, meanSquare: each.meanSquare * 25.4 ** 2 }));
    const [some, more] = [varianceInterval(terms, 0.8), varianceInterval(terms, 0.99)];
    expect(more.low).toBeLessThan(some.low);
    expect(more.high).toBeGreaterThan(some.high);
    expect(varianceInterval(inMils, 0.8).high / some.high).toBeCloseTo(25.4 ** 2, 9);
    expect(varianceInterval(inMils, 0.8).low / some.low).toBeCloseTo(25.4 ** 2, 9);
  });

  it("never goes below nothing", () => {
    expect(varianceInterval([term(1, 0, 4), term(-1, 20, 30)], 0.95)).toEqual({ low: 0, high: 0 });
    expect(varianceInterval([], 0.95)).toEqual({ low: 0, high: 0 });
  });
});
