import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { isPreferred, preferredBand } from "../../core/fit/preferredBand.ts";
import { toNm } from "../../core/length/nm.ts";

/** Read only here, so that a shipped length that cannot be read fails the test that is about it. */
const shippedLimits = async () => (await import("../../core/fit/limitsDefaults.ts")).SHIPPED_LIMITS;
const shippedMaterials = async () => (await import("../../core/fit/materials.ts")).MATERIALS;

/** 0.0001 in, exactly. */
const TENTH = 2540;

describe("limits that ship (common practice, no source)", () => {
  it("0.0013 to 0.0019 in for flat-faced lifters, 0.0015 to 0.0017 in preferred", async () => {
    expect((await shippedLimits()).flat).toEqual({
      lowNm: 13 * TENTH,
      highNm: 19 * TENTH,
      preferredLowNm: 15 * TENTH,
      preferredHighNm: 17 * TENTH,
      serviceHighNm: null,
      source: "common practice, no source",
    });
  });

  it("0.0020 to 0.0030 in for rollers, the middle of it preferred", async () => {
    expect((await shippedLimits()).roller).toEqual({
      lowNm: 20 * TENTH,
      highNm: 30 * TENTH,
      preferredLowNm: null,
      preferredHighNm: null,
      serviceHighNm: null,
      source: "common practice, no source",
    });
  });

  it("are the same for everyone who reads them", async () => {
    const limits = await shippedLimits();
    expect(Object.isFrozen(limits)).toBe(true);
    expect(Object.isFrozen(limits.flat)).toBe(true);
    expect(Object.isFrozen(limits.roller)).toBe(true);
  });
});

describe("preferred band", () => {
  it("is the middle third where none is named, end by end", async () => {
    const { roller } = await shippedLimits();
    expect(preferredBand(roller).lowNm).toBeCloseTo((20 + 10 / 3) * TENTH, 6);
    expect(preferredBand(roller).highNm).toBeCloseTo((30 - 10 / 3) * TENTH, 6);
    expect(preferredBand({ ...roller, preferredLowNm: toNm(60_000) }).lowNm).toBe(60_000);
    expect(preferredBand({ ...roller, preferredLowNm: toNm(60_000) }).highNm).toBeCloseTo((30 - 10 / 3) * TENTH, 6);
  });

  it("holds a bore whose smallest and largest clearance both lie in it, ends included", async () => {
    const { flat } = await shippedLimits();
    const at = (nm: number) => ({ clearanceNm: nm, value: nm, u: 500, degreesOfFreedom: 10 });
    const held = (smallest: number, largest: number) =>
      isPreferred({ smallest: at(smallest), largest: at(largest) }, flat);
    expect(held(15 * TENTH, 17 * TENTH)).toBe(true);
    expect(held(15 * TENTH - 1, 16 * TENTH)).toBe(false);
    expect(held(16 * TENTH, 17 * TENTH + 1)).toBe(false);
  });
});

describe("what the budget takes for granted until told otherwise", () => {
  it("1 µm indicator, 0.7 µm transfer, 2 µm micrometer, 0.5 µm centring, ± 3 °C unmeasured, ± 0.5 °C measured", () => {
    expect(BUDGET_DEFAULTS).toEqual({
      indicatorNm: 1000,
      transferNm: 700,
      micrometerNm: 2000,
      centringNm: 500,
      temperatureHalfWidthC: 3,
      thermometerHalfWidthC: 0.5,
    });
  });
});

describe("materials", () => {
  it("say where their coefficient comes from, under the name they are asked for by", async () => {
    const materials = await shippedMaterials();
    for (const [id, material] of Object.entries(materials)) {
      expect(material.id).toBe(id);
      expect(material.source).toMatch(id === "steel" ? /gauge practice/ : /table/);
    }
    expect(materials["bearing-steel"]?.source).toContain("52100");
    expect(Object.keys(materials)).toHaveLength(6);
  });
});
