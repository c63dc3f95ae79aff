import { LINE } from "./budget.ts";
import type { BudgetLine } from "./finding.ts";
import { effectiveDegreesOfFreedom } from "./gum.ts";
import type { Measured } from "./odds.ts";

/**
 * Distribution of the true clearance (nm), for the odds of a verdict.
 *
 * An off-centre gauge is short, never long: by 0 … a (`centringNm`), so the true clearance is expected a/2 above the one
 * shown, with a/√12 left of that line of the budget instead of a/√3. Odds taken about the value shown would call bores
 * just above the upper limit "fits" in 7 % of cases instead of the 5 % stated (simulated in the tests). The clearance
 * itself is shown as measured.
 */
export function bestEstimate(
  clearanceNm: number,
  lines: readonly Pick<BudgetLine, "name" | "contributionNm" | "degreesOfFreedom">[],
  centringNm: number,
): Measured {
  const contributions = lines.map(({ name, contributionNm }) =>
    name === LINE.centring ? contributionNm / 2 : contributionNm,
  );
  return {
    value: clearanceNm + centringNm / 2,
    u: Math.hypot(...contributions),
    degreesOfFreedom: effectiveDegreesOfFreedom(
      contributions,
      lines.map((line) => line.degreesOfFreedom),
    ),
  };
}
