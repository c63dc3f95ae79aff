import { describe, expect, it } from "vitest";
import { bestEstimate } from "../../core/fit/bestEstimate.ts";
import { LINE } from "../../core/fit/budget.ts";

const EXACT = Number.POSITIVE_INFINITY;
const line = (name: string, contributionNm: number, degreesOfFreedom = EXACT) => ({
  name,
  contributionNm,
  degreesOfFreedom,
  distribution: "normal",
});

describe("where the true clearance is expected", () => {
  it("is half of the centring above the one shown, for a gauge off its centre is short by 0 … a, a/2 on average", () => {
    expect(bestEstimate(40_000, [], 500).value).toBe(40_250);
    expect(bestEstimate(40_000, [], 0).value).toBe(40_000);
  });

  it("is above it too by what the smallest press of the zero is long on average; a press in the bore is left alone", () => {
    // μ = 1200 nm and three presses: √2·400 nm in the budget, 400 nm long.
    const press = (name: string) => ({ ...line(name, Math.SQRT2 * 400), distribution: "one-sided exponential" });
    expect(bestEstimate(40_000, [press(LINE.zero)], 0).value).toBeCloseTo(40_400, 9);
    expect(bestEstimate(40_000, [press(LINE.station), press(LINE.zero)], 500).value).toBeCloseTo(40_650, 9);
    expect(bestEstimate(40_000, [line(LINE.zero, 566)], 0).value).toBe(40_000);
  });

  it("is known about that middle to a/√12, half of the a/√3 about the end", () => {
    const centring = line(LINE.centring, 500 / Math.sqrt(3));
    expect(bestEstimate(40_000, [centring], 500).u).toBeCloseTo(500 / Math.sqrt(12), 9);
    expect(bestEstimate(40_000, [centring, line(LINE.transfer, 700)], 500).u).toBeCloseTo(
      Math.hypot(500 / Math.sqrt(12), 700),
      9,
    );
  });

  it("has the degrees of freedom of what is left (Welch and Satterthwaite)", () => {
    const lines = [line(LINE.station, 300, 6), line(LINE.centring, 800)];
    const { degreesOfFreedom } = bestEstimate(40_000, lines, 0);
    expect(degreesOfFreedom).toBeCloseTo((300 ** 2 + 400 ** 2) ** 2 / (300 ** 4 / 6), 6);
    expect(bestEstimate(40_000, [line(LINE.transfer, 700)], 0).degreesOfFreedom).toBe(EXACT);
  });
});
