import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lengthAt20 } from "../../core/fit/temperature.ts";
import { annulusLeak, leakRatio, WIDEST_GAP_NM } from "../../core/remedy/planning/annulusLeak.ts";
import { runningClearance } from "../../core/remedy/planning/runningClearance.ts";
import { tiltAllowed } from "../../core/remedy/planning/tiltAllowed.ts";
import { materialNamed } from "../fit/exampleInput.ts";

const seeded = { seed: 20261125, numRuns: 300 };
const diameter = fc.integer({ min: 15_000_000, max: 30_000_000 });
const small = fc.integer({ min: -100_000, max: 200_000 });

describe("running clearance", () => {
  const celsius = fc.double({ min: -60, max: 250, noNaN: true });

  it("comes back to the clearance at 20 °C by way of the lengths", () => {
    const block = materialNamed("aluminium-319");
    const lifter = materialNamed("steel");
    fc.assert(
      fc.property(diameter, small, celsius, celsius, (lifterNm, clearanceNm, blockC, lifterC) => {
        const warm = runningClearance(
          clearanceNm,
          lifterNm,
          { material: block, celsius: blockC },
          { material: lifter, celsius: lifterC },
        );
        const lifterWarm = lifterNm * (1 + lifter.alpha * 1e-6 * (lifterC - 20));
        const boreWarm = lifterWarm + warm.clearanceNm;
        expect(lengthAt20(boreWarm, block, blockC) - lifterNm).toBeCloseTo(clearanceNm, 3);
        expect(warm.halfWidthNm).toBeGreaterThanOrEqual(0);
      }),
      seeded,
    );
  });

  it("is the clearance itself at 20 °C, whatever the materials", () => {
    const at20 = { material: materialNamed("aluminium-356"), celsius: 20 };
    expect(runningClearance(-3000, 21_400_000, at20, at20)).toEqual({ clearanceNm: -3000, halfWidthNm: 0 });
  });

  it.each([[-60.1], [250.1], [Number.NaN]])("refuses %d °C and says what was expected", (degrees) => {
    const part = { material: materialNamed("steel"), celsius: 20 };
    const outside = { ...part, celsius: degrees };
    expect(() => runningClearance(1, 1, outside, part)).toThrow("expected -60 to 250 °C");
    expect(() => runningClearance(1, 1, part, outside)).toThrow("expected -60 to 250 °C");
  });

  it("takes the outermost temperatures, and refuses a lifter of no size", () => {
    const part = (degrees: number) => ({ material: materialNamed("steel"), celsius: degrees });
    expect(runningClearance(1000, 21_400_000, part(-60), part(250)).clearanceNm).toBeLessThan(0);
    expect(() => runningClearance(1000, 0, part(20), part(20))).toThrow("expected a diameter above 0");
    expect(() => runningClearance(Number.NaN, 1, part(20), part(20))).toThrow("finite clearance");
    expect(() => runningClearance(1, Number.POSITIVE_INFINITY, part(20), part(20))).toThrow("diameter above 0");
  });
});

describe("leak past the lifter", () => {
  const gap = {
    diameterNm: 21_400_000,
    clearanceNm: 40_000,
    pressurePa: 3e5,
    viscosityPaS: 0.01,
    lengthNm: 30_000_000,
    eccentricity: 0.5,
  };

  it("goes with the cube of the clearance, with pressure, and against viscosity and length", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1000, max: 100_000 }),
        fc.double({ min: 1.01, max: 4, noNaN: true }),
        (c, times) => {
          const at = (change: Partial<typeof gap>) => annulusLeak({ ...gap, clearanceNm: c, ...change }).m3PerS ?? 0;
          expect(at({ clearanceNm: c * times }) / at({})).toBeCloseTo(times ** 3, 6);
          expect(at({ pressurePa: 3e5 * times }) / at({})).toBeCloseTo(times, 9);
          expect(at({ viscosityPaS: 0.01 * times }) / at({})).toBeCloseTo(1 / times, 9);
          expect(at({ lengthNm: 30_000_000 * times }) / at({})).toBeCloseTo(1 / times, 9);
          expect(leakRatio(c * times, c)).toBeCloseTo(times ** 3, 9);
        },
      ),
      seeded,
    );
  });

  it("is none where there is no gap, and not told where the gap is too wide", () => {
    expect(annulusLeak({ ...gap, clearanceNm: -5000 })).toEqual({ state: "no gap", m3PerS: 0 });
    expect(annulusLeak({ ...gap, clearanceNm: 0 })).toEqual({ state: "no gap", m3PerS: 0 });
    expect(annulusLeak({ ...gap, clearanceNm: 2 * WIDEST_GAP_NM }).state).toBe("flows");
    expect(annulusLeak({ ...gap, clearanceNm: 2 * WIDEST_GAP_NM + 1 })).toEqual({ state: "too wide", m3PerS: null });
    expect(leakRatio(-5000, 40_000)).toBe(0);
    expect(() => leakRatio(40_000, 0)).toThrow("expected one above 0");
  });

  it.each([
    [{ diameterNm: 0 }, "a diameter of 0 nm; expected one above 0"],
    [{ clearanceNm: Number.NaN }, "a clearance of NaN nm"],
    [{ pressurePa: -1 }, "a pressure difference of -1 Pa; expected one from 0 to 10000000 Pa"],
    [{ viscosityPaS: 0 }, "a viscosity of 0 Pa·s; expected one from 0.0005 to 10 Pa·s"],
    [{ lengthNm: -1 }, "a length of the gap of -1 nm"],
    [{ eccentricity: 1.01 }, "an eccentricity of 1.01; expected one from 0 to 1"],
  ])("refuses %j", (change, says) => {
    expect(() => annulusLeak({ ...gap, ...change })).toThrow(says);
  });
});

describe("tilt that the clearance allows", () => {
  it("touches at two corners: D·cos θ − L·sin θ = d, and is c/L for a small angle", () => {
    fc.assert(
      fc.property(
        diameter,
        fc.integer({ min: 1000, max: 200_000 }),
        fc.integer({ min: 10_000_000, max: 60_000_000 }),
        (lifterNm, clearanceNm, guidedNm) => {
          const { radians, smallAngle } = tiltAllowed(clearanceNm, lifterNm, guidedNm);
          const across = (lifterNm + clearanceNm) * Math.cos(radians) - guidedNm * Math.sin(radians);
          expect(Math.abs(across - lifterNm)).toBeLessThan(0.01);
          // Of second order the bore's cosine takes D·θ²/2 of the clearance, and the cosine of L·sin θ nothing.
          const second = ((lifterNm + clearanceNm) * smallAngle) / (2 * guidedNm);
          expect(Math.abs(radians / smallAngle - 1)).toBeLessThan(1.01 * second + 1e-9);
          expect(radians).toBeLessThan(smallAngle);
        },
      ),
      seeded,
    );
  });

  it("40 µm over 30 mm let a lifter of 21.4 mm tilt by 1.33 mrad (derived)", () => {
    const { radians, smallAngle } = tiltAllowed(40_000, 21_400_000, 30_000_000);
    expect(smallAngle).toBeCloseTo(0.00133333, 8);
    expect(radians).toBeCloseTo(0.0013327, 7);
  });

  it("is none without a gap, and refuses what is no length", () => {
    expect(tiltAllowed(-1, 21_400_000, 30_000_000)).toEqual({ radians: 0, smallAngle: 0 });
    expect(tiltAllowed(0, 21_400_000, 30_000_000).radians).toBe(0);
    expect(() => tiltAllowed(1, 0, 1)).toThrow("expected lengths above 0");
    expect(() => tiltAllowed(1, 1, 0)).toThrow("expected lengths above 0");
    expect(() => tiltAllowed(Number.NaN, 1, 1)).toThrow("finite clearance");
  });
});
