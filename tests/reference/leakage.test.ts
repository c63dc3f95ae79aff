import { describe, expect, it } from "vitest";
import { parseLength } from "../../core/length/parseLength.ts";
import { annulusLeak, leakRatio } from "../../core/remedy/planning/annulusLeak.ts";
import { significantDigits } from "./significantDigits.ts";

/** D 21.4 mm, radial gap 20 µm, 3 bar, 0.010 Pa·s over 30 mm. */
const GAP = {
  diameterNm: 21_400_000,
  clearanceNm: 40_000,
  pressurePa: 3e5,
  viscosityPaS: 0.01,
  lengthNm: 30_000_000,
  eccentricity: 0,
};

describe("leak past a lifter: Q = π·D·c³·Δp·(1 + 1.5·ε²)/(12·µ·L), c radial (a fluid-power text, eq. 2.19; read)", () => {
  it("is 4.482 005E-8 m³/s concentric and 1.120 501E-7 touching (derived)", () => {
    expect(significantDigits(annulusLeak(GAP).m3PerS, 4.482005e-8)).toBeGreaterThan(6.3);
    expect(significantDigits(annulusLeak({ ...GAP, eccentricity: 1 }).m3PerS, 1.120501e-7)).toBeGreaterThan(6.3);
  });

  it("is 2.5 times as much at full eccentricity (read)", () => {
    const touching = annulusLeak({ ...GAP, eccentricity: 1 }).m3PerS ?? Number.NaN;
    expect(touching / (annulusLeak(GAP).m3PerS ?? Number.NaN)).toBeCloseTo(2.5, 12);
  });

  // Factors are derived; stated to one or two digits.
  it.each([
    ["0.0010 in", 0.3],
    ["0.0020 in", 2.4],
    ["0.0025 in", 4.6],
    ["0.0030 in", 8],
  ])("at %s on diameter it is %d times that at 0.0015 in (derived)", (clearance, times) => {
    const beside = parseLength("0.0015 in");
    expect(leakRatio(parseLength(clearance), beside)).toBeCloseTo(times, 1);
    const at = (clearanceNm: number) => annulusLeak({ ...GAP, clearanceNm }).m3PerS ?? Number.NaN;
    expect(at(parseLength(clearance)) / at(beside)).toBeCloseTo(leakRatio(parseLength(clearance), beside), 9);
  });
});
