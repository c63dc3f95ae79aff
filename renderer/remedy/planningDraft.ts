import type { PlanningAssumptionsInput } from "../../core/bridge/messages.ts";
import type { Planning } from "../../core/report/planningSchema.ts";

export type AssumptionName = Planning["assumptions"][number]["name"];

/** What a person wrote in place of an assumption; empty or absent leaves the answer's own. */
export type PlanningDraft = Readonly<Partial<Record<AssumptionName, string>>>;

export interface ReadPlanning {
  readonly assumptions: PlanningAssumptionsInput;
  /** What is wrong with a field, by its name. */
  readonly errors: Readonly<Partial<Record<AssumptionName, string>>>;
}

const TEXTS = ["blockMaterial", "lifterMaterial", "guidedLength"] as const;
const NUMBERS = ["blockC", "lifterC", "viscosityPaS", "pressureBar", "eccentricity"] as const;

/** Reads what was written, field by field; what can not be read is left out and said. Bounds are the host's to check. */
export function readPlanning(draft: PlanningDraft): ReadPlanning {
  const assumptions: PlanningAssumptionsInput = {};
  const errors: Partial<Record<AssumptionName, string>> = {};
  for (const name of TEXTS) {
    const text = draft[name]?.trim() ?? "";
    if (text !== "") assumptions[name] = text;
  }
  for (const name of NUMBERS) {
    const text = draft[name]?.trim().replace(",", ".") ?? "";
    if (text === "") continue;
    if (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) assumptions[name] = Number(text);
    else errors[name] = `Found “${draft[name]}”; expected a number such as 0.012.`;
  }
  return { assumptions, errors };
}
