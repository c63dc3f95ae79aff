import { describe, expect, it } from "vitest";
import { parabolaVertex } from "../../core/sweep/parabolaFit.ts";

describe("lowest point of a parabola", () => {
  it("is exact for points on one, far from the origin too", () => {
    for (const origin of [0, 1e8]) {
      const x = [-31, -7, 2, 19, 40].map((value) => value + origin);
      const y = x.map((value) => 3 + 0.5 * (value - origin - 4) ** 2);
      const vertex = parabolaVertex(x, y);
      expect(vertex?.lowest).toBeCloseTo(3, 6);
      expect(vertex?.rms).toBeCloseTo(0, 6);
    }
  });

  it("keeps the digits where raw normal equations lose them: x in millions, curvature of 1e-15", () => {
    const x = Array.from({ length: 20 }, (_, i) => 150_000 * (i + 1));
    const y = x.map((value) => 1e-3 + 3e-15 * (value - 1_500_000) ** 2);
    expect(parabolaVertex(x, y)?.lowest).toBeCloseTo(1e-3, 12);
  });

  it("refuses one that opens downwards, whose lowest point lies outside, or that the points do not settle", () => {
    expect(parabolaVertex([-1, 0, 1], [0, 1, 0])).toBeNull();
    expect(parabolaVertex([1, 2, 3], [1, 4, 9])).toBeNull();
    expect(parabolaVertex([1, 1, 1], [1, 2, 3])).toBeNull();
    expect(parabolaVertex([1, 1, 2], [1, 2, 3])).toBeNull();
    expect(parabolaVertex([1, 2], [1, 2])).toBeNull();
  });

  it("lies where the slope is nought: half the slope over the curvature from any point (derived: the square completed)", () => {
    // 2x² − 12x + 30 = 2(x − 3)² + 12, and residuals ±r that no parabola takes up (third differences of five points).
    const x = [0, 1, 2, 4, 5, 6];
    const y = x.map((value) => 2 * value * value - 12 * value + 30);
    expect(parabolaVertex(x, y)).toEqual({ lowest: expect.closeTo(12, 9), rms: expect.closeTo(0, 6) });
    const third = [-1, 2, 0, -2, 1];
    const bent = [-2, -1, 0, 1, 2].map((value, i) => value * value + 0.1 * (third[i] as number));
    expect(parabolaVertex([-2, -1, 0, 1, 2], bent)).toEqual({
      lowest: expect.closeTo(0, 9),
      // Five points less three unknowns: √(10·0.1²/2).
      rms: expect.closeTo(Math.sqrt(0.05), 9),
    });
  });

  it("may lie at the first or the last point, but not beyond", () => {
    expect(parabolaVertex([0, 1, 2], [0, 1, 4])?.lowest).toBeCloseTo(0, 12);
    expect(parabolaVertex([-2, -1, 0], [4, 1, 0])?.lowest).toBeCloseTo(0, 12);
    expect(parabolaVertex([0, 1, 1.2], [0, 1, 1.44])?.lowest).toBeCloseTo(0, 12);
    expect(parabolaVertex([0.1, 1, 2], [0.01, 1, 4])).toBeNull();
    expect(parabolaVertex([-2, -1, -0.1], [4, 1, 0.01])).toBeNull();
  });

  it("is none on a level line", () => {
    expect(parabolaVertex([0, 1, 2, 3], [5, 5, 5, 5])).toBeNull();
  });
});
