import { describe, expect, it } from "vitest";
import { medianVariance } from "../../core/fit/medianVariance.ts";
import {
  ASSUMED_SCATTER_NM,
  keptTurningPoints,
  repeatabilityOf,
  stationRepeatability,
} from "../../core/fit/repeatability.ts";
import { resolutionUncertainty, scatterBeforeRounding } from "../../core/fit/resolution.ts";
import { toNm } from "../../core/length/nm.ts";
import { sweepsAbout } from "./exampleInput.ts";
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
  it("rests on the turning points of the sweeps that count", () => {
    const [kept, struck, aside] = sweepsAbout(1000, 0);
    if (kept === undefined || struck === undefined || aside === undefined) throw new Error("three sweeps");
    const sweeps = [kept, { ...struck, use: "struck" as const }, { ...aside, use: "set aside" as const }];
    expect(keptTurningPoints(sweeps)).toEqual([kept.turningPointNm]);
    expect(keptTurningPoints([{ ...kept, rawMinNm: toNm(-5) }])).toEqual([kept.turningPointNm]);
  });

  it("of a stream is the pooled standard deviation, rounding and all, with Σ(n−1) degrees of freedom", () => {
    const groups = [[0, 600], [100, 700, 1300], [50]];
    const found = repeatabilityOf(groups, "stream", 1270);
    expect(found.scatterNm).toBeCloseTo(Math.sqrt((180_000 + 720_000) / 3), 9);
    expect(found).toMatchObject({ sends: "stream", scaleNm: found.scatterNm, degreesOfFreedom: 3 });
  });

  it("of held minima leaves out what rounding adds, which has a line of its own", () => {
    const groups = [[0, 1270], [1270, 2540, 3810], [50]];
    const found = repeatabilityOf(groups, "held", 1270);
    expect(found.scatterNm).toBe(repeatabilityOf(groups, "stream", 1270).scatterNm);
    expect(found.scaleNm).toBe(scatterBeforeRounding(1270, found.scatterNm));
    expect(found.scaleNm).toBeLessThan(found.scatterNm);
    expect(found).toMatchObject({ sends: "held", degreesOfFreedom: 3 });
  });

  it("makes a station value of n sweeps: s·√Var(median), of presses √2·μ/n", () => {
    const of = (sends: "stream" | "held" | "press") => ({ sends, scatterNm: 1, scaleNm: 600, degreesOfFreedom: 4 });
    expect(stationRepeatability(of("stream"), 3)).toBeCloseTo(600 * Math.sqrt(1.346013 / 3), 9);
    expect(stationRepeatability(of("held"), 1)).toBe(600);
    expect(stationRepeatability(of("press"), 3)).toBeCloseTo((Math.SQRT2 * 600) / 3, 9);
  });

  it("assumes half a micrometre, known to a half, where nothing was repeated", () => {
    expect(repeatabilityOf([[100], [200]], "stream", 0)).toMatchObject({
      scaleNm: ASSUMED_SCATTER_NM,
      degreesOfFreedom: 2,
    });
    expect(repeatabilityOf([], "press", 0)).toEqual({
      sends: "press",
      scatterNm: 0,
      scaleNm: 500,
      degreesOfFreedom: 2,
    });
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

  it("of a display without graduation is none, and takes nothing off the scatter", () => {
    expect(scatterBeforeRounding(0, 321)).toBe(321);
    expect(resolutionUncertainty(0, "held", 321)).toBe(0);
  });

  it("is all there is to readings that repeat exactly, and hardly counts beside a large scatter", () => {
    expect(scatterBeforeRounding(1000, 0)).toBe(0);
    // Rounding adds q²/12 to the variance of readings that scatter over many graduations.
    expect(scatterBeforeRounding(1000, 5000)).toBeCloseTo(Math.sqrt(5000 ** 2 - 1000 ** 2 / 12), 6);
    expect(scatterBeforeRounding(1000, Math.sqrt(1e6 + 1e6 / 12))).toBeCloseTo(1000, 3);
    // Just below one graduation of dither the solved value meets the plain one.
    expect(scatterBeforeRounding(1000, 1040)).toBeCloseTo(Math.sqrt(1040 ** 2 - 1000 ** 2 / 12), 2);
  });

  it("of half a graduation of dither leaves the bias that the first term of its Fourier series says", () => {
    // Σ q²/(2π²k²)·exp(−4π²k²σ²/q²) at σ = q/2: the second term is a ten-thousandth of a millionth of the first.
    const first = Math.exp(-(Math.PI ** 2)) / (2 * Math.PI ** 2);
    const shown = 1000 * Math.sqrt(0.25 + 1 / 12 - first);
    expect(scatterBeforeRounding(1000, shown)).toBeCloseTo(500, 4);
    expect(resolutionUncertainty(1000, "stream", shown)).toBeCloseTo(1000 * Math.sqrt(first), 4);
  });

  it("of a tenth of a graduation of dither needs the whole series", () => {
    let bias = 0;
    for (let k = 1; k < 100; k += 1) bias += Math.exp(-4 * (Math.PI * k * 0.1) ** 2) / (2 * (Math.PI * k) ** 2);
    const shown = 1000 * Math.sqrt(0.01 + 1 / 12 - bias);
    expect(scatterBeforeRounding(1000, shown)).toBeCloseTo(100, 4);
    expect(resolutionUncertainty(1000, "stream", shown)).toBeCloseTo(1000 * Math.sqrt(bias), 4);
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
