import type { Ms } from "../gauge/ms.ts";
import { BUDGET_DEFAULTS } from "./budgetDefaults.ts";
import type { BudgetSettings, FitInput, Material, Temperatures } from "./finding.ts";

/** Reference temperature of lengths, °C. Source: ISO 1:2022. */
export const REFERENCE_C = 20;

/** Temperatures that a clearance is computed with, °C, and how well they are known. */
export interface TemperatureState {
  readonly blockC: number;
  readonly lifterC: number;
  /** Half-width of the rectangular uncertainty, °C. */
  readonly halfWidthC: number;
  /** True when block and lifter are taken as equal, so that they are uncertain together. */
  readonly common: boolean;
  /** True when at least one of them was measured. */
  readonly measured: boolean;
}

function lastMeasured(records: readonly Temperatures[], tMs: Ms, key: "blockC" | "lifterC"): number | null {
  let found: number | null = null;
  for (const record of records) if (record.tMs <= tMs && record[key] !== null) found = record[key];
  return found;
}

/**
 * Temperatures for a bore measured at `stationMs` with a micrometer set at `setMs`: the block's when the bore was
 * measured, the lifter's when the micrometer was set to it (when it was first measured later, that); the last one
 * measured counts. One that was never measured is taken as equal to the other; without either both are taken as 20 °C,
 * with the budget's half-width.
 */
export function temperaturesAt(
  input: Pick<FitInput, "temperatures" | "budget">,
  stationMs: Ms,
  setMs: Ms,
): TemperatureState {
  const blockC = lastMeasured(input.temperatures, stationMs, "blockC");
  const lifterC =
    lastMeasured(input.temperatures, setMs, "lifterC") ?? lastMeasured(input.temperatures, stationMs, "lifterC");
  const known = blockC ?? lifterC;
  if (known === null) return unmeasuredTemperatures(input.budget);
  return {
    blockC: blockC ?? known,
    lifterC: lifterC ?? known,
    halfWidthC: input.budget.thermometerHalfWidthC ?? BUDGET_DEFAULTS.thermometerHalfWidthC,
    common: blockC === null || lifterC === null,
    measured: true,
  };
}

/** Block and lifter both at 20 °C, uncertain together by the budget's half-width. */
export function unmeasuredTemperatures(budget: BudgetSettings): TemperatureState {
  return {
    blockC: REFERENCE_C,
    lifterC: REFERENCE_C,
    halfWidthC: budget.temperatureHalfWidthC,
    common: true,
    measured: false,
  };
}

/** A length (nm) of a material at `celsius` as it is at 20 °C: α is defined on the length at 20 °C, L = L20·(1 + α·(T − 20)). */
export function lengthAt20(lengthNm: number, material: Material, celsius: number): number {
  return lengthNm / (1 + material.alpha * 1e-6 * (celsius - REFERENCE_C));
}

/**
 * Clearance at 20 °C (nm, signed) from a comparative measurement.
 *
 * Derived: the micrometer was set to a lifter that had `setNm` at the lifter's temperature, so its gap is that length,
 * whatever its own temperature or scale. The gauge, zeroed in it, then reads `differenceNm` = g·(r_bore − r_zero) more
 * in the bore: the bore has setNm + differenceNm at the block's temperature. Each is brought to 20 °C with its own
 * expansion and subtracted. `bracketNm` = D_set − D_lifter is a difference of sizes at 20 °C, as below. At
 * 20 °C this is exactly differenceNm + bracketNm. An error in `setNm` matters only times α·(T − 20), so the nominal
 * size serves when the lifter was not measured. The display, rocked through a few µm, needs no correction.
 *
 * A micrometer as warm as the lifter shows that lifter's size at 20 °C, both being steel: a diameter is taken as it was
 * read. The gap is then larger by α_L·(T_L − 20) of it than was read, which is left out here: it changes a clearance by
 * D·α_L·(T_L − 20)·(α_L·(T_L − 20) − α_B·(T_B − 20)), for a lifter of steel less than 1 nm within ten degrees of
 * 20 °C (derived here).
 */
export function clearanceAt20(
  setNm: number,
  differenceNm: number,
  bracketNm: number,
  materials: FitInput["materials"],
  at: Pick<TemperatureState, "blockC" | "lifterC">,
): number {
  if (at.blockC === REFERENCE_C && at.lifterC === REFERENCE_C) return differenceNm + bracketNm;
  return (
    lengthAt20(setNm + differenceNm, materials.block, at.blockC) -
    lengthAt20(setNm, materials.lifter, at.lifterC) +
    bracketNm
  );
}
