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
});
