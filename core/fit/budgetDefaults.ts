import { toNm } from "../length/nm.ts";
import type { BudgetSettings } from "./finding.ts";

/**
 * What the budget assumes until the user says otherwise (our choice; lengths in nm, each entry described at
 * `BudgetSettings`). The micrometer's 2 µm is common practice for a micrometer of this size, no source.
 */
export const BUDGET_DEFAULTS: Required<BudgetSettings> = Object.freeze({
  indicatorNm: toNm(1000),
  transferNm: toNm(700),
  micrometerNm: toNm(2000),
  centringNm: toNm(500),
  temperatureHalfWidthC: 3,
  thermometerHalfWidthC: 0.5,
});
