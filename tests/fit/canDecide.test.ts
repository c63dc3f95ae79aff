import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { type CanDecideInput, canDecide } from "../../core/fit/canDecide.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { toNm } from "../../core/length/nm.ts";
import { materialNamed } from "./exampleInput.ts";

const plan = (change: Partial<CanDecideInput> = {}) =>
  canDecide({
    limits: SHIPPED_LIMITS.flat,
    sends: "stream",
    sweepsPerStation: 3,
    resolutionNm: toNm(1270),
    micrometerResolutionNm: toNm(1270),
    nominalLifterNm: toNm(21_386_800),
    materials: { block: materialNamed("grey-iron"), lifter: materialNamed("steel") },
    budget: BUDGET_DEFAULTS,
    ...change,
  });

describe("can this gauge decide?", () => {
  it("says yes for a gauge of 0.00005 in and flat lifters, with the figures", () => {
    const found = plan();
    expect(found.decides).toBe(true);
    expect(found.bandNm).toBe(15_240);
    expect(found.expandedNm).toBeGreaterThan(1900);
    expect(found.expandedNm).toBeLessThan(2500);
    // Far from the other limit the guard is Student's one-sided factor times u.
    expect(found.guardedBandNm).toBeGreaterThan(15_240 - 2 * found.expandedNm);
    expect(found.guardedBandNm).toBeLessThan(15_240 - 1.6 * found.expandedNm);
    expect(found.text).toContain("can decide this band");
    expect(found.text).toContain("15.2 µm");
  });

  it("says no for a caliper's 0.0005 in, and names what is to blame", () => {
    const found = plan({ resolutionNm: toNm(12_700), budget: { ...BUDGET_DEFAULTS, indicatorNm: toNm(20_000) } });
    expect(found).toMatchObject({ decides: false, guardedBandNm: 0 });
    expect(found.text).toContain("cannot decide");
    expect(found.text).toContain("indicator over the small travel used");
  });

  it("turns to no where half of the band is left", () => {
    let turned = 0;
    let before = true;
    for (let transfer = 500; transfer < 6000; transfer += 50) {
      const found = plan({ budget: { ...BUDGET_DEFAULTS, transferNm: toNm(transfer) } });
      expect(found.decides).toBe(found.guardedBandNm >= found.bandNm / 2);
      if (found.decides !== before) turned += 1;
      before = found.decides;
    }
    expect(turned).toBe(1);
  });

  it("costs more in aluminium unless temperatures are measured, and more for lifters measured one by one", () => {
    const materials = { block: materialNamed("aluminium-356"), lifter: materialNamed("steel") };
    expect(plan({ materials }).expandedNm).toBeGreaterThan(plan().expandedNm);
    expect(plan({ materials, temperaturesMeasured: true }).expandedNm).toBeLessThan(plan({ materials }).expandedNm);
    expect(plan({ otherLifters: true }).expandedNm).toBeGreaterThan(plan().expandedNm + 1000);
  });

  it("calls no band of no width decidable", () => {
    const limits = { lowNm: toNm(1000), highNm: toNm(1000) };
    expect(plan({ limits })).toMatchObject({ decides: false, bandNm: 0, guardedBandNm: 0 });
    expect(plan({ limits }).text).toContain("0.0 µm of it, 0 %, is left");
  });
});

/** A gauge whose only uncertainty is a transfer of exactly 1 µm, so that every guard is a normal factor times 1 µm. */
const onlyTransfer = (bandNm: number, change: Partial<CanDecideInput> = {}) => {
  const stone = { id: "stone", alpha: 10, alphaHalfWidth: 0, source: "made up" };
  return plan({
    limits: { lowNm: toNm(10_000), highNm: toNm(10_000 + bandNm) },
    scatterNm: 0,
    resolutionNm: toNm(0),
    micrometerResolutionNm: toNm(0),
    materials: { block: stone, lifter: stone },
    budget: { ...BUDGET_DEFAULTS, indicatorNm: toNm(0), centringNm: toNm(0), transferNm: toNm(1000) },
    ...change,
  });
};

describe("the band left between the guard limits", () => {
  it("is 1.645 u less at either end while the other end is far (ISO 14253-1)", () => {
    expect(onlyTransfer(20_000).guardedBandNm).toBe(Math.round(20_000 - 2 * 1644.854));
    expect(onlyTransfer(20_000)).toMatchObject({ expandedNm: 1960, bandNm: 20_000, decides: true });
  });

  it("is gone once 95 % of the distribution need more than the whole band: 2 · 1.96 u (JCGM 106:2012, 7.3.2)", () => {
    expect(onlyTransfer(3919).guardedBandNm).toBe(0);
    expect(onlyTransfer(3921).guardedBandNm).toBeGreaterThan(0);
    expect(onlyTransfer(3919).text).toContain("0.0 µm of it, 0 %, is left");
  });

  it("must be half of the allowed band: 6.58 u", () => {
    expect(onlyTransfer(6580).decides).toBe(true);
    expect(onlyTransfer(6579).decides).toBe(false);
  });

  it("is all of it where nothing is uncertain", () => {
    const certain = { ...BUDGET_DEFAULTS, indicatorNm: toNm(0), centringNm: toNm(0), transferNm: toNm(0) };
    expect(onlyTransfer(500, { budget: certain })).toMatchObject({ guardedBandNm: 500, expandedNm: 0, decides: true });
  });

  it("is told in words", () => {
    expect(onlyTransfer(20_000).text).toBe(
      "This gauge can decide this band: U of ±2.0 µm (95 %) is to be expected against a band of 20.0 µm; " +
        "16.7 µm of it, 84 %, is left between the guard limits.",
    );
    expect(onlyTransfer(5000).text).toBe(
      "This gauge cannot decide this band: U of ±2.0 µm (95 %) is to be expected against a band of 5.0 µm; " +
        "1.7 µm of it, 34 %, is left between the guard limits, and half is needed. The largest part of the uncertainty " +
        "is transfer through the micrometer: faces, feel (100 %).",
    );
  });
});

describe("the uncertainty to be expected", () => {
  const scattered = (change: Partial<CanDecideInput>) => {
    const budget = { ...BUDGET_DEFAULTS, indicatorNm: toNm(0), centringNm: toNm(0), transferNm: toNm(0) };
    return onlyTransfer(20_000, { scatterNm: 1000, sends: "held", budget, ...change }).expandedNm;
  };

  // Student's factors at 8 and 12 (read: GUM table G.2 and its kin), as a zero of ν leaves 4ν to two equal lines.
  it.each([
    [1, 1, 2.306],
    [2, 0.5, 2.306],
    [3, 1.346013 / 3, 2.306],
    [4, 1.192811 / 4, 2.179],
  ])(
    "of medians of %d sweeps at bore and zero; a zero says as little as two degrees of freedom at least",
    (n, variance, t) => {
      expect(scattered({ sweepsPerStation: n }) / (t * 1000 * Math.sqrt(2 * variance))).toBeCloseTo(1, 3);
    },
  );

  it("takes half a micrometre of scatter for granted where none is known", () => {
    const assumed = plan({ sends: "held" });
    expect(assumed.expandedNm).toBe(plan({ sends: "held", scatterNm: 500 }).expandedNm);
    expect(assumed.expandedNm).toBeLessThan(plan({ sends: "held", scatterNm: 900 }).expandedNm);
  });

  it("counts the graduation at bore and zero, and twice the micrometer for other lifters", () => {
    const coarse = onlyTransfer(20_000, { resolutionNm: toNm(6000), sends: "held" }).expandedNm;
    expect(coarse).toBe(Math.round(1.959964 * Math.hypot(1000, Math.SQRT2 * (6000 / Math.sqrt(12)))));
    const others = onlyTransfer(20_000, { otherLifters: true }).expandedNm;
    expect(others).toBe(Math.round(1.959964 * Math.hypot(1000, Math.SQRT2 * (2000 / Math.sqrt(3)))));
    expect(onlyTransfer(20_000, { otherLifters: false }).expandedNm).toBe(1960);
  });

  it("of measured temperatures is the thermometer's on each, half a degree unless the job says otherwise", () => {
    const aluminium = { id: "a", alpha: 20, alphaHalfWidth: 0, source: "made up" };
    const steel = { id: "s", alpha: 10, alphaHalfWidth: 0, source: "made up" };
    const { thermometerHalfWidthC: _, ...silent } = {
      ...BUDGET_DEFAULTS,
      indicatorNm: toNm(0),
      centringNm: toNm(0),
      transferNm: toNm(0),
    };
    const measured = (budget: CanDecideInput["budget"], temperaturesMeasured = true) =>
      onlyTransfer(20_000, {
        materials: { block: aluminium, lifter: steel },
        nominalLifterNm: toNm(20_000_000),
        temperaturesMeasured,
        budget,
      }).expandedNm;
    const eachDegree = Math.hypot(400, 200) / Math.sqrt(3);
    expect(measured(silent)).toBe(Math.round(1.959964 * eachDegree * 0.5));
    expect(measured({ ...silent, thermometerHalfWidthC: 2 })).toBe(Math.round(1.959964 * eachDegree * 2));
    // Not measured, both are alike within 3 °C.
    expect(measured(silent, false)).toBe(Math.round((1.959964 * 200 * 3) / Math.sqrt(3)));
  });
});
