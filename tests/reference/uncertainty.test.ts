import { describe, expect, it } from "vitest";
import { combine, coverageFactor, effectiveDegreesOfFreedom, evaluateModel } from "../../core/fit/gum.ts";

describe("GUM (JCGM 100:2008)", () => {
  it("H.1, end gauge: u_c 32 nm, ν_eff 16, t 2.92, U99 93 nm (read at second hand)", () => {
    const exact = Number.POSITIVE_INFINITY;
    // Lengths in nm, temperatures in °C; 0.58E-6 and 0.029 °C are half-widths of 1E-6 and 0.05 °C over √3; θ and αS are known well enough to enter as they are.
    const found = evaluateModel(
      ([lS = 0, d = 0, difference = 0, unequal = 0, theta = 0, alpha = 0]) =>
        lS + d - lS * (difference * theta + alpha * unequal),
      [
        { name: "lS", value: 50_000_623, u: 25, degreesOfFreedom: 18 },
        { name: "d", value: 215, u: 9.7, degreesOfFreedom: 25.6 },
        { name: "δα", value: 0, u: 1e-6 / Math.sqrt(3), degreesOfFreedom: 50 },
        { name: "δθ", value: 0, u: 0.05 / Math.sqrt(3), degreesOfFreedom: 2 },
        { name: "θ", value: -0.1, u: 0, degreesOfFreedom: exact },
        { name: "αS", value: 11.5e-6, u: 0, degreesOfFreedom: exact },
      ],
      { coverage: 0.99, wholeDegrees: true },
    );
    expect(found.value).toBeCloseTo(50_000_838, 6);
    expect(found.degreesOfFreedom).toBe(16);
    expect(found.factor).toBeCloseTo(2.92, 2);
    expect(Math.round(found.combined)).toBe(32);
    // 93 comes from the rounded 32 × 2.92; the unrounded chain gives 92.47, with the published 9.7 nm 92.50 (derived).
    expect(found.expanded).toBeGreaterThanOrEqual(92.4);
    expect(found.expanded).toBeLessThanOrEqual(93.5);
    expect(found.expanded).toBeCloseTo(92.5, 1);
  });

  it("H.1, the difference d alone: 9.7 nm with 25.6 degrees of freedom (read at second hand)", () => {
    const parts = [5.8, 3.9, 6.7];
    expect(Math.hypot(...parts)).toBeCloseTo(9.7, 1);
    // 25.6 comes from the rounded 9.7; the unrounded parts give 25.45 (derived).
    const unrounded = effectiveDegreesOfFreedom(parts, [24, 5, 8]);
    expect(unrounded).toBeCloseTo(25.45, 2);
    expect((unrounded * 9.7 ** 4) / Math.hypot(...parts) ** 4).toBeCloseTo(25.6, 1);
  });

  it("G.4.1, Welch–Satterthwaite: 1.03 % and 19.0, not cut to 18 (read at second hand)", () => {
    const inputs = [
      { name: "a", u: 0.25, degreesOfFreedom: 9, sensitivity: 1 },
      { name: "b", u: 0.57, degreesOfFreedom: 4, sensitivity: 1 },
      { name: "c", u: 0.82, degreesOfFreedom: 14, sensitivity: 1 },
    ];
    expect(combine(inputs).combined).toBeCloseTo(1.03, 2);
    expect(combine(inputs).degreesOfFreedom).toBeCloseTo(19.0, 1);
    expect(combine(inputs, { wholeDegrees: true }).degreesOfFreedom).toBe(19);
  });

  it.each([
    [0.95, 1, 12.71, 2],
    [0.95, 2, 4.3, 2],
    [0.95, 3, 3.18, 2],
    [0.95, 5, 2.57, 2],
    [0.95, 8, 2.31, 2],
    [0.95, 10, 2.23, 2],
    [0.95, 16, 2.12, 2],
    [0.95, 20, 2.09, 2],
    [0.95, 50, 2.01, 2],
    [0.95, 100, 1.984, 3],
    [0.95, Number.POSITIVE_INFINITY, 1.96, 3],
    [0.99, 5, 4.03, 2],
    [0.99, 16, 2.92, 2],
    [0.99, 20, 2.85, 2],
  ])("table G.2 (read, NIST reprint): t at %d, ν %d is %d", (coverage, degreesOfFreedom, factor, places) => {
    expect(coverageFactor(coverage, degreesOfFreedom)).toBeCloseTo(factor, places);
  });
});
