import { describe, expect, it } from "vitest";
import { grubbsCritical, grubbsOutlier } from "../../core/sweep/grubbs.ts";

describe("Grubbs' test at 1 %, two-sided", () => {
  // Two-sided 1 % is one-sided 0.5 %: F. E. Grubbs, Technometrics 11 (1969), table I; the tabulated values are from
  // memory, and agree with the closed form.
  it.each([
    [3, 1.155],
    [5, 1.764],
    [7, 2.139],
    [10, 2.482],
    [12, 2.636],
    [20, 3.001],
  ])("critical value for %i", (n, expected) => {
    expect(grubbsCritical(n)).toBeCloseTo(expected, 3);
  });

  it("finds the one that lies far off, on either side, and none in a plain list", () => {
    expect(grubbsOutlier([10, 11, 10, 9, 10, 10, 40])).toBe(6);
    expect(grubbsOutlier([-40, 11, 10, 9, 10, 10, 10])).toBe(0);
    expect(grubbsOutlier([10, 11, 12, 9, 8, 10, 13])).toBeNull();
  });

  it("finds none among equals, or among two", () => {
    expect(grubbsOutlier([5, 5, 5, 5, 5])).toBeNull();
    expect(grubbsOutlier([5, 500])).toBeNull();
    expect(grubbsOutlier([])).toBeNull();
  });

  it("calls one an outlier from just where its distance over s, with n − 1, passes the critical value", () => {
    // Eleven values of mean 0 and one more at x: bisect for the place where the call changes.
    const others = [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5];
    let [low, high] = [5, 50];
    for (let i = 0; i < 50; i += 1) {
      const x = (low + high) / 2;
      if (grubbsOutlier([...others, x]) === null) low = x;
      else high = x;
    }
    const mean = low / 12;
    const squares = [...others, low].reduce((sum, value) => sum + (value - mean) ** 2, 0);
    expect((low - mean) / Math.sqrt(squares / 11)).toBeCloseTo(2.636, 3);
    expect(grubbsOutlier([...others, high])).toBe(11);
  });

  it("depends neither on the unit nor on the level, and takes the earlier of two that lie equally far", () => {
    const values = [10, 11, 10, 9, 10, 10, 40];
    expect(grubbsOutlier(values.map((value) => value * 1e-6))).toBe(6);
    expect(grubbsOutlier(values.map((value) => value * 1e6 - 3e7))).toBe(6);
    expect(grubbsOutlier([...Array(12).fill(0), 10, ...Array(12).fill(0), -10])).toBe(12);
  });

  it("can tell with three: two equal ones and one that is not", () => {
    expect(grubbsOutlier([0, 1, 0])).toBe(1);
    expect(grubbsOutlier([0, 1, 0.1])).toBeNull();
  });
});
