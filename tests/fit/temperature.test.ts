import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import type { BudgetSettings, Temperatures } from "../../core/fit/finding.ts";
import { clearanceAt20, lengthAt20, temperaturesAt, unmeasuredTemperatures } from "../../core/fit/temperature.ts";
import { materialNamed } from "./exampleInput.ts";

const at = (
  temperatures: readonly Temperatures[],
  stationMs = 1000,
  setMs = 500,
  budget: BudgetSettings = BUDGET_DEFAULTS,
) => temperaturesAt({ temperatures, budget }, stationMs, setMs);

describe("temperatures in force", () => {
  it("are 20 ± 3 °C for block and lifter alike where nothing was measured", () => {
    const nothing = { blockC: 20, lifterC: 20, halfWidthC: 3, common: true, measured: false };
    expect(at([])).toEqual(nothing);
    expect(at([{ tMs: 0, blockC: null, lifterC: null }])).toEqual(nothing);
    expect(unmeasuredTemperatures({ ...BUDGET_DEFAULTS, temperatureHalfWidthC: 7 }).halfWidthC).toBe(7);
  });

  it("are known as well as the thermometer, half a degree unless the job says otherwise", () => {
    const both = [{ tMs: 0, blockC: 24, lifterC: 22 }];
    const { thermometerHalfWidthC: _, ...silent } = BUDGET_DEFAULTS;
    expect(at(both)).toEqual({ blockC: 24, lifterC: 22, halfWidthC: 0.5, common: false, measured: true });
    expect(at(both, 1000, 500, silent).halfWidthC).toBe(0.5);
    expect(at(both, 1000, 500, { ...silent, thermometerHalfWidthC: 0.2 }).halfWidthC).toBe(0.2);
  });

  it("of the block are those last measured when the bore was, that moment included", () => {
    const records = [
      { tMs: 0, blockC: 21, lifterC: 20 },
      { tMs: 1000, blockC: 22, lifterC: null },
      { tMs: 1001, blockC: 23, lifterC: null },
    ];
    expect(at(records, 999).blockC).toBe(21);
    expect(at(records, 1000).blockC).toBe(22);
    expect(at(records, 1001).blockC).toBe(23);
  });

  it("of the lifter are those when the micrometer was set to it, that moment included", () => {
    const records = [
      { tMs: 0, blockC: 20, lifterC: 21 },
      { tMs: 500, blockC: null, lifterC: 22 },
      { tMs: 501, blockC: null, lifterC: 25 },
    ];
    expect(at(records).lifterC).toBe(22);
    expect(at(records, 1000, 499).lifterC).toBe(21);
    // A record without the block's temperature does not undo the one before.
    expect(at(records).blockC).toBe(20);
  });

  it("of the lifter are those measured later, up to the bore, where none were when it was set", () => {
    const records = [
      { tMs: 0, blockC: 20, lifterC: null },
      { tMs: 700, blockC: null, lifterC: 24 },
      { tMs: 1200, blockC: null, lifterC: 29 },
    ];
    expect(at(records).lifterC).toBe(24);
  });

  it("measured on one of the two count for both, uncertain together", () => {
    expect(at([{ tMs: 0, blockC: 25, lifterC: null }])).toMatchObject({ blockC: 25, lifterC: 25, common: true });
    expect(at([{ tMs: 0, blockC: null, lifterC: 18 }])).toMatchObject({ blockC: 18, lifterC: 18, common: true });
    expect(at([{ tMs: 0, blockC: null, lifterC: 18 }])).toMatchObject({ measured: true, halfWidthC: 0.5 });
  });
});

describe("lengths at 20 °C", () => {
  const steel = materialNamed("steel");
  const aluminium = materialNamed("aluminium-356");
  const materials = { block: aluminium, lifter: steel };

  it("are shorter than warm ones: 100 mm of steel at 30 °C are 11.5 µm too long (ISO 1:2022)", () => {
    expect(lengthAt20(100_000_000 * (1 + 115e-6), steel, 30)).toBeCloseTo(100_000_000, 4);
    expect(lengthAt20(100_000_000, steel, 20)).toBe(100_000_000);
    expect(lengthAt20(100_000_000, steel, 10)).toBeGreaterThan(100_000_000);
  });

  it("leave a clearance untouched at 20 °C, to the last digit", () => {
    expect(clearanceAt20(21_386_800, 40_600.3, -1234, materials, { blockC: 20, lifterC: 20 })).toBe(39_366.3);
  });

  it("of a warm lifter in a cold block add what the lifter will shrink, and the other way round", () => {
    const warmLifter = clearanceAt20(21_386_800, 40_600, 0, materials, { blockC: 20, lifterC: 30 });
    expect(warmLifter).toBeCloseTo(40_600 + 21_386_800 * (1 - 1 / (1 + 115e-6)), 6);
    const warmBlock = clearanceAt20(21_386_800, 40_600, 0, materials, { blockC: 30, lifterC: 20 });
    expect(warmBlock).toBeCloseTo(40_600 - (21_386_800 + 40_600) * (1 - 1 / (1 + 215e-6)), 6);
  });

  it("of a smaller lifter are larger by what the micrometer showed it to be smaller", () => {
    const difference = clearanceAt20(21_386_800, 40_600, 5000, materials, { blockC: 20, lifterC: 30 });
    expect(difference).toBeCloseTo(21_427_400 - 21_386_800 / (1 + 115e-6) + 5000, 6);
  });
});
