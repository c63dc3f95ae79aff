import { describe, expect, it } from "vitest";
import { probabilityAbove, probabilityBelow, probabilityInside } from "../../core/fit/odds.ts";

const exact = Number.POSITIVE_INFINITY;

describe("odds of a true value", () => {
  it("are certain where nothing is uncertain, and a limit itself is inside", () => {
    const certain = (value: number) => ({ value, u: 0, degreesOfFreedom: exact });
    expect(probabilityBelow(certain(10), 10)).toBe(0);
    expect(probabilityBelow(certain(9), 10)).toBe(1);
    expect(probabilityAbove(certain(10), 10)).toBe(0);
    expect(probabilityAbove(certain(11), 10)).toBe(1);
    expect(probabilityInside(certain(10), 10, 20)).toBe(1);
    expect(probabilityInside(certain(20), 10, 20)).toBe(1);
    expect(probabilityInside(certain(21), 10, 20)).toBe(0);
  });

  it("are even at a limit, and one side is the other's rest", () => {
    const measured = { value: 10, u: 2, degreesOfFreedom: 5 };
    expect(probabilityBelow(measured, 10)).toBeCloseTo(0.5, 12);
    expect(probabilityBelow(measured, 12) + probabilityAbove(measured, 12)).toBeCloseTo(1, 12);
    expect(probabilityAbove(measured, 7)).toBeGreaterThan(0.9);
  });

  it("follow Student with few degrees of freedom: t of 90 % two-sided is 2.132 at 4 (read: GUM table G.2 and its kin)", () => {
    expect(probabilityBelow({ value: 0, u: 1, degreesOfFreedom: 4 }, -2.132)).toBeCloseTo(0.05, 4);
    expect(probabilityBelow({ value: 0, u: 1, degreesOfFreedom: exact }, -1.644854)).toBeCloseTo(0.05, 6);
  });

  it("are normal from 500 degrees of freedom on, where a tail of 5.03 % becomes one of 5 %", () => {
    const tail = (degreesOfFreedom: number) => probabilityBelow({ value: 0, u: 1, degreesOfFreedom }, -1.644854);
    expect(tail(500)).toBe(tail(exact));
    expect(tail(499)).toBeCloseTo(0.0503, 4);
    expect(tail(500)).toBeCloseTo(0.05, 7);
  });

  it("of being inside are those of neither side, and never negative", () => {
    const measured = { value: 12, u: 3, degreesOfFreedom: 8 };
    const outside = probabilityBelow(measured, 10) + probabilityAbove(measured, 20);
    expect(probabilityInside(measured, 10, 20)).toBeCloseTo(1 - outside, 12);
    expect(probabilityInside(measured, 20, 10)).toBe(0);
  });
});
