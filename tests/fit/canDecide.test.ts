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
  });
});
