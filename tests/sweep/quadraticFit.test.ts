import { describe, expect, it } from "vitest";
import { fitQuadratic } from "../../core/sweep/quadraticFit.ts";

describe("a parabola by least squares", () => {
  it("is none with fewer than three different x, however many points there are", () => {
    expect(fitQuadratic([], [])).toBeNull();
    expect(fitQuadratic([1], [5])).toBeNull();
    expect(fitQuadratic([1, 2], [5, 6])).toBeNull();
    expect(fitQuadratic([7, 7, 7, 7], [1, 2, 3, 4])).toBeNull();
    expect(fitQuadratic([0, 0, 0.3, 0.3, 0.3], [1, 2, 3, 4, 5])).toBeNull();
    expect(fitQuadratic([0, 0, 1, 1e-6], [1, 2, 3, 4])).toBeNull();
    expect(fitQuadratic([0, 0, 1, 1e-3], [1, 2, 3, 4])).not.toBeNull();
  });

  it("counts x from their mean in halves of their range, and misses three points by nothing", () => {
    const fit = fitQuadratic([10, 12, 17], [1, 1, 8]);
    expect(fit).toMatchObject({ centre: 13, scale: 3.5, residualDeviation: 0 });
    // Through the points: (x − 10)(x − 12)/5 + 1, its curvature in u being 0.2·3.5².
    expect(fit?.curvature).toBeCloseTo(2.45, 12);
    expect(fit?.atCentre).toBeCloseTo(1.6, 12);
    expect(fit?.slope).toBeCloseTo(0.2 * 4 * 3.5, 12);
  });

  it("allows for its three unknowns in what the points miss it by", () => {
    // ±1 as third differences have it at four points: nothing of it is a parabola.
    const fit = fitQuadratic([0, 1, 2, 3], [1, -3, 3, -1]);
    expect(fit?.residualDeviation).toBeCloseTo(Math.sqrt(20), 9);
  });
});
