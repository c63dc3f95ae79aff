import { describe, expect, it } from "vitest";
import { runningClearance } from "../../core/remedy/planning/runningClearance.ts";
import { materialNamed } from "../fit/exampleInput.ts";

describe("clearance at other temperatures (ISO 1:2022: α is defined on the length at 20 °C)", () => {
  const lifter = materialNamed("bearing-steel");
  /** A lifter of 21.400 mm at 25 °C, at 20 °C. */
  const lifterNm = 21_400_000 / (1 + 11.9e-6 * 5);

  it.each([
    ["grey-iron", 20.0524],
    ["aluminium-356", 18.9708],
  ])("%s: %d µm at 20 °C are 20.000 µm at 25 °C, as bore 21.420 and lifter 21.400 mm there (derived)", (block, um) => {
    const warm = runningClearance(
      um * 1000,
      lifterNm,
      { material: materialNamed(block), celsius: 25 },
      { material: lifter, celsius: 25 },
    );
    expect(warm.clearanceNm / 1000).toBeCloseTo(20, 3);
  });

  it("an aluminium block opens by 21.4 mm · (21.5 − 11.5)e-6 · 70 °C = 14.98 µm and a little of the gap (derived)", () => {
    const warm = runningClearance(
      40_000,
      21_400_000,
      { material: materialNamed("aluminium-356"), celsius: 90 },
      { material: materialNamed("steel"), celsius: 90 },
    );
    expect(warm.clearanceNm).toBeCloseTo(40_000 + 14_980 + 40_000 * 21.5e-6 * 70, 6);
    expect(warm.halfWidthNm).toBeCloseTo(21_440_000 * 70e-6 + 21_400_000 * 70e-6, 6);
  });
});
