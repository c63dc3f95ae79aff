import { describe, expect, it } from "vitest";
import { FARTHEST_NM, RockingPace } from "../../core/sweep/rockingPace.ts";

/** K·(1/cos θ − 1), nm: what a gauge tilted by `deg` reads above square, K = 20 mm. */
const aboveSquareNm = (deg: number) => 20e6 * (1 / Math.cos((deg * Math.PI) / 180) - 1);

describe("what no rocking can do, before one was seen", () => {
  it("is to change by more than 30 µm at once, 4 µm a millisecond, or 0.6 mm in all", () => {
    const pace = new RockingPace();
    expect(pace.largestChangeNm(1)).toBe(30_000);
    expect(pace.largestChangeNm(7.5)).toBe(30_000);
    expect(pace.largestChangeNm(10)).toBe(40_000);
    expect(pace.largestChangeNm(149)).toBe(596_000);
    expect(pace.largestChangeNm(1000)).toBe(600_000);
    expect(pace.steepestNmPerMs).toBe(0);
  });

  it("is beyond the largest bore rocked by 13° at 1.15 Hz, and by 14° in all (derived: the secant of the tilt)", () => {
    const pace = new RockingPace();
    const tilt = (ms: number) => 13 * Math.sin(2 * Math.PI * 1.15e-3 * ms);
    let steepest = 0;
    for (let ms = 0; ms < 900; ms += 1) {
      steepest = Math.max(steepest, Math.abs(aboveSquareNm(tilt(ms + 20)) - aboveSquareNm(tilt(ms))) / 20);
    }
    expect(pace.largestChangeNm(20) / 20).toBeGreaterThan(steepest);
    expect(pace.largestChangeNm(20) / 20).toBeLessThan(1.15 * steepest);
    expect(FARTHEST_NM / aboveSquareNm(14)).toBeGreaterThan(0.97);
    expect(FARTHEST_NM / aboveSquareNm(14)).toBeLessThan(1);
  });
});

describe("what no rocking can do, once two sweeps were seen", () => {
  const seen = (...sweeps: [swingNm: number, durationMs: number][]) => {
    const pace = new RockingPace();
    for (const [swing, duration] of sweeps) pace.swept(swing, duration);
    return pace;
  };

  it("takes two: one alone tells nothing", () => {
    expect(seen([100_000, 600]).largestChangeNm(50)).toBe(200_000);
    expect(seen([100_000, 600], [100_000, 600]).largestChangeNm(50)).toBeLessThan(100_000);
  });

  it("is half more than the steepest of a swing, s·π/T, and 30 µm for handling", () => {
    const pace = seen([100_000, 600], [100_000, 600]);
    expect(pace.steepestNmPerMs).toBeCloseTo((100_000 * Math.PI) / 600, 9);
    expect(pace.largestChangeNm(50)).toBeCloseTo(30_000 + (150_000 * Math.PI * 50) / 600, 6);
    // Never more than a swing and a half, however long it took.
    expect(pace.largestChangeNm(190)).toBeLessThan(180_000);
    expect(pace.largestChangeNm(191)).toBe(180_000);
    expect(pace.largestChangeNm(5000)).toBe(180_000);
  });

  it("is never less than 30 µm, nor more than any rocking can do", () => {
    expect(seen([100_000, 600], [100_000, 600]).largestChangeNm(1)).toBe(30_000);
    expect(seen([500_000, 400], [500_000, 400]).largestChangeNm(20)).toBe(80_000);
  });

  it("keeps the largest and the quickest of late, and forgets them by a fifth and a quarter a sweep", () => {
    const slower = seen([100_000, 600], [10_000, 6000]);
    expect(slower.steepestNmPerMs).toBeCloseTo((80_000 * Math.PI) / 750, 9);
    slower.swept(90_000, 500);
    expect(slower.steepestNmPerMs).toBeCloseTo((90_000 * Math.PI) / 500, 9);
    expect(seen([100_000, 0]).steepestNmPerMs).toBeCloseTo(100_000 * Math.PI, 6);
  });

  it("allows half more after an alarm, and everything again after the gauge went elsewhere", () => {
    const pace = seen([100_000, 600], [100_000, 600]);
    pace.widen();
    expect(pace.largestChangeNm(5000)).toBe(255_000);
    pace.forget();
    expect(pace.steepestNmPerMs).toBe(0);
    expect(pace.largestChangeNm(5000)).toBe(600_000);
    pace.swept(50_000, 900);
    expect(pace.largestChangeNm(5000)).toBe(600_000);
    pace.swept(50_000, 900);
    expect(pace.largestChangeNm(5000)).toBe(105_000);
    expect(pace.steepestNmPerMs).toBeCloseTo((50_000 * Math.PI) / 900, 9);
  });
});
