import { describe, expect, it } from "vitest";
import { simultaneousFactor } from "../../core/remedy/change/simultaneous.ts";

const equal = (count: number, shared: number) =>
  Array.from({ length: count }, () => ({ shared: Math.sqrt(shared), own: Math.sqrt(1 - shared) }));

describe("one factor for several errors that share a part", () => {
  // Two-sided, 5 %, infinite degrees of freedom, correlation 0.5: Dunnett, Biometrics 20 (1964) (memory).
  it.each([
    [1, 1.96],
    [2, 2.21],
    [3, 2.35],
    [4, 2.44],
    [5, 2.51],
    [6, 2.57],
    [9, 2.69],
  ])("of %d with correlation 0.5 is %d (Dunnett's table; memory)", (count, factor) => {
    expect(Math.abs(simultaneousFactor(equal(count, 0.5), 0.05) - factor)).toBeLessThan(0.0051);
  });

  // (1 − p)^n = 0.95 (derived): p = 0.0253206 for two, 0.00511620 for ten; normal quantiles of 1 − p/2.
  it.each([
    [2, 2.2365],
    [10, 2.7995],
  ])("of %d that share nothing is Šidák's %d (derived)", (count, factor) => {
    expect(simultaneousFactor(equal(count, 0), 0.05)).toBeCloseTo(factor, 3);
  });

  it("of many that share all is the single one, and of none 0", () => {
    expect(simultaneousFactor(equal(20, 1), 0.05)).toBeCloseTo(1.96, 1);
    expect(simultaneousFactor([], 0.05)).toBe(0);
  });
});
