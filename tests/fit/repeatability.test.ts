import { describe, expect, it } from "vitest";
import { medianVariance } from "../../core/fit/medianVariance.ts";
import { ASSUMED_SCATTER_NM, repeatabilityOf, stationRepeatability } from "../../core/fit/repeatability.ts";
import { resolutionUncertainty } from "../../core/fit/resolution.ts";
import { Random } from "./simulatedBlock.ts";

const sorted = (values: readonly number[]) => [...values].sort((a, b) => a - b);
const meanSquare = (values: readonly number[]) => values.reduce((sum, value) => sum + value ** 2, 0) / values.length;

function medianOf(values: readonly number[]): number {
  const order = sorted(values);
  const middle = order.length / 2;
  return ((order[Math.ceil(middle) - 1] ?? 0) + (order[Math.floor(middle)] ?? 0)) / 2;
}

describe("variance of the median", () => {
  it.each([1, 2, 3, 4, 5, 7, 8, 12, 15, 25])("of %d normal values, against 40000 simulated medians", (count) => {
    const random = new Random(count);
    const medians = Array.from({ length: 40_000 }, () =>
      medianOf(Array.from({ length: count }, () => random.normal())),
    );
    expect(meanSquare(medians) / medianVariance(count)).toBeGreaterThan(0.97);
    expect(meanSquare(medians) / medianVariance(count)).toBeLessThan(1.03);
  });

  it("falls with every further sweep of the same parity, also beyond the table", () => {
    for (let count = 1; count < 60; count += 1) {
      expect(medianVariance(count + 2)).toBeLessThan(medianVariance(count));
    }
  });

  it("asks for at least one value", () => {
    expect(() => medianVariance(0)).toThrow("median of 0 values: expected 1 or more");
  });
});

describe("repeatability", () => {
  it("assumes half a micrometre, known to a half, where nothing was repeated", () => {
    expect(repeatabilityOf([[100], [200]], "stream", 0)).toMatchObject({
      scaleNm: ASSUMED_SCATTER_NM,
      degreesOfFreedom: 2,
    });
    expect(repeatabilityOf([], "press", 0).degreesOfFreedom).toBe(2);
  });

  it.each([2, 3, 5, 8])(
    "of the smallest of %d presses: the error of an exponential excess, the spread of a normal one",
    (count) => {
      const random = new Random(100 + count);
      const groups = (draw: () => number) => Array.from({ length: 20_000 }, () => Array.from({ length: count }, draw));
      const excess = groups(() => -1000 * Math.log(random.uniform()));
      const stated = stationRepeatability(repeatabilityOf(excess, "press", 0), count);
      const smallest = excess.map((group) => sorted(group)[0] ?? 0);
      expect(stated / Math.sqrt(meanSquare(smallest))).toBeGreaterThan(0.97);
      expect(stated / Math.sqrt(meanSquare(smallest))).toBeLessThan(1.03);

      const normal = groups(() => 1000 * random.normal());
      const lows = normal.map((group) => sorted(group)[0] ?? 0);
      const mean = lows.reduce((sum, value) => sum + value, 0) / lows.length;
      const spread = Math.sqrt(meanSquare(lows.map((value) => value - mean)));
      const covering = stationRepeatability(repeatabilityOf(normal, "press", 0), count) / spread;
      expect(covering).toBeGreaterThan(0.95);
      expect(covering).toBeLessThan(1.2);
    },
  );
});

describe("presses", () => {
  const scaleOf = (groups: readonly (readonly number[])[]) => repeatabilityOf(groups, "press", 0);

  it("weigh the gap of the two smallest by the presses above: (2·100 + 1·40)/2, a half degree of freedom a group", () => {
    expect(scaleOf([[500, 100, 0]])).toMatchObject({ scaleNm: 200, degreesOfFreedom: 0.5 });
    expect(scaleOf([[0, 40]])).toMatchObject({ scaleNm: 40, degreesOfFreedom: 0.5 });
    expect(scaleOf([[500, 100, 0], [], [7], [40, 80]])).toMatchObject({ scaleNm: 120, degreesOfFreedom: 1 });
  });

  it("say nothing more by their larger ones, however far from square", () => {
    expect(scaleOf([[0, 100, 200]])).toEqual({ ...scaleOf([[0, 100, 20_000]]), scatterNm: 100 });
  });

  it("of an exponential excess show its mean, known as well as the degrees of freedom say", () => {
    const random = new Random(17);
    const found = Array.from({ length: 4000 }, () =>
      scaleOf(Array.from({ length: 8 }, () => Array.from({ length: 3 }, () => -1000 * Math.log(random.uniform())))),
    );
    const mean = found.reduce((sum, { scaleNm }) => sum + scaleNm, 0) / found.length;
    const spread = Math.sqrt(meanSquare(found.map(({ scaleNm }) => scaleNm - mean)));
    expect(mean / 1000).toBeCloseTo(1, 1);
    // GUM G.4.2: ν = (u/Δu)²/2.
    expect((mean / spread) ** 2 / 2 / (found[0]?.degreesOfFreedom ?? 0)).toBeCloseTo(1, 1);
  });
});

describe("resolution", () => {
  const stream = (scatterNm: number) => resolutionUncertainty(1270, "stream", scatterNm);

  it("is q/√12 (GUM F.2.2.1) for presses and held minima, and for a stream that repeats exactly", () => {
    expect(stream(0)).toBeCloseTo(1270 / Math.sqrt(12), 9);
    expect(resolutionUncertainty(1270, "press", 900)).toBeCloseTo(1270 / Math.sqrt(12), 9);
    expect(resolutionUncertainty(1270, "held", 900)).toBeCloseTo(1270 / Math.sqrt(12), 9);
    expect(resolutionUncertainty(0, "stream", 0)).toBe(0);
  });

  it("of a stream falls as its scatter grows, without a step", () => {
    let before = stream(0);
    for (let scatter = 10; scatter < 2000; scatter += 10) {
      const now = stream(scatter);
      expect(now).toBeLessThanOrEqual(before + 1e-6);
      expect(before - now).toBeLessThan(20);
      before = now;
    }
    expect(before).toBeLessThan(1);
  });

  const rounded = (noise: number, count: number) => {
    const random = new Random(Math.round(noise * 1000));
    return Array.from({ length: 20_000 }, () => {
      const place = random.uniform() * 1270;
      return Array.from({ length: count }, () => Math.round(place / 1270 + noise * random.normal()) * 1270 - place);
    });
  };

  it.each([0.1, 0.2, 0.3, 0.5])(
    "and scatter make up the error of a mean of rounded readings, noise %d graduations",
    (noise) => {
      const groups = rounded(noise, 5);
      const error = meanSquare(groups.map((group) => group.reduce((sum, value) => sum + value, 0) / 5));
      const { scatterNm } = repeatabilityOf(groups, "stream", 1270);
      const stated = stream(scatterNm) ** 2 + scatterNm ** 2 / 5;
      expect(stated / error).toBeGreaterThan(0.97);
      expect(stated / error).toBeLessThan(1.03);
    },
  );

  it.each([0.05, 0.2, 0.4, 1])(
    "and scatter before rounding make up the error of a median of rounded readings, noise %d graduations",
    (noise) => {
      const groups = rounded(noise, 5);
      const error = meanSquare(groups.map(medianOf));
      const repeatability = repeatabilityOf(groups, "held", 1270);
      expect(repeatability.scaleNm / (noise * 1270)).toBeCloseTo(1, 1);
      const stated = resolutionUncertainty(1270, "held", repeatability.scatterNm) ** 2;
      expect((stated + stationRepeatability(repeatability, 5) ** 2) / error).toBeGreaterThan(0.97);
      expect((stated + stationRepeatability(repeatability, 5) ** 2) / error).toBeLessThan(1.03);
    },
  );
});
