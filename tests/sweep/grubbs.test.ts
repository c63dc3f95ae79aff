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
});
