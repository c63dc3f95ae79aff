import type { Material } from "../../fit/finding.ts";
import { REFERENCE_C } from "../../fit/temperature.ts";

/** Temperatures that a planning figure may be asked for, °C, both included: a cold start in winter to oil far too hot. Our choice. */
export const COLDEST_RUNNING_C = -60;
export const HOTTEST_RUNNING_C = 250;

/** A part at a temperature, °C. */
export interface WarmPart {
  readonly material: Pick<Material, "alpha" | "alphaHalfWidth">;
  readonly celsius: number;
}

/** A clearance at other temperatures, nm, signed (negative: interference), unrounded. */
export interface RunningClearance {
  readonly clearanceNm: number;
  /** How far off it may be by the expansion coefficients alone, both at the ends of their half-widths, nm, not negative. */
  readonly halfWidthNm: number;
}

/**
 * Clearance between a bore and its lifter, each at a temperature of its own, from the clearance at 20 °C (nm, signed)
 * and the lifter's diameter at 20 °C (nm, above 0). Bore and lifter expand as solid rings do, evenly and freely:
 * C = (D + c)·(1 + α_B·(T_B − 20)) − D·(1 + α_L·(T_L − 20)). Derived here from the definition of α on the length at
 * 20 °C (ISO 1:2022); the inverse of `lengthAt20`. α is the mean one near 20 °C: far from it the estimate gets worse, by
 * more than the half-width says. Half-width, derived: D·(h_B·|T_B − 20| + h_L·|T_L − 20|), the worst of both.
 * @throws RangeError for a diameter that is not above 0, or a temperature outside −60 … 250 °C.
 */
export function runningClearance(
  clearanceNm: number,
  lifterNm: number,
  block: WarmPart,
  lifter: WarmPart,
): RunningClearance {
  if (!(lifterNm > 0) || !Number.isFinite(lifterNm) || !Number.isFinite(clearanceNm)) {
    throw new RangeError(
      `found a lifter of ${lifterNm} nm and a clearance of ${clearanceNm} nm; expected a diameter above 0 and a finite clearance`,
    );
  }
  const warmed = (part: WarmPart) => part.material.alpha * 1e-6 * degreesAbove(part.celsius);
  const boreNm = lifterNm + clearanceNm;
  const off = (part: WarmPart) => part.material.alphaHalfWidth * 1e-6 * Math.abs(degreesAbove(part.celsius));
  return {
    clearanceNm: clearanceNm + boreNm * warmed(block) - lifterNm * warmed(lifter),
    halfWidthNm: boreNm * off(block) + lifterNm * off(lifter),
  };
}

function degreesAbove(celsius: number): number {
  if (celsius >= COLDEST_RUNNING_C && celsius <= HOTTEST_RUNNING_C) return celsius - REFERENCE_C;
  throw new RangeError(`found ${celsius} °C; expected ${COLDEST_RUNNING_C} to ${HOTTEST_RUNNING_C} °C`);
}
