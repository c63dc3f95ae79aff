import { describe, expect, it } from "vitest";
import { MATERIALS } from "../../core/fit/materials.ts";
import { clearanceAt20, lengthAt20 } from "../../core/fit/temperature.ts";
import { materialNamed } from "../fit/exampleInput.ts";

describe("materials and temperature (ISO 1:2022: lengths at 20 °C)", () => {
  it.each([
    ["steel", 11.5],
    ["bearing-steel", 11.9],
    ["grey-iron", 11.4],
    ["ductile-iron", 11.2],
    ["aluminium-356", 21.5],
    ["aluminium-319", 22],
  ])("%s expands by %d · 1e-6 per °C, ±1 (read: a materials text's table and makers' tables)", (id, alpha) => {
    expect(materialNamed(id)).toMatchObject({ id, alpha, alphaHalfWidth: 1 });
  });

  it("knows no compacted iron: there is no reliable source for it", () => {
    expect(Object.keys(MATERIALS).some((id) => id.includes("compacted"))).toBe(false);
  });

  it.each([
    ["grey-iron", 20.0524],
    ["aluminium-356", 18.9708],
  ])("bore 21.420 in %s, lifter 21.400 mm of bearing steel, both at 25 °C: %d µm at 20 °C (derived)", (block, um) => {
    const materials = { block: materialNamed(block), lifter: materialNamed("bearing-steel") };
    const bore = lengthAt20(21_420_000, materials.block, 25);
    const lifter = lengthAt20(21_400_000, materials.lifter, 25);
    expect((bore - lifter) / 1000).toBeCloseTo(um, 4);
    const compared = clearanceAt20(21_400_000, 20_000, 0, materials, { blockC: 25, lifterC: 25 });
    expect(compared / 1000).toBeCloseTo(um, 4);
  });
});
