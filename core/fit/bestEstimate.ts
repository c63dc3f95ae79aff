import { LINE } from "./budget.ts";
import type { BudgetLine } from "./finding.ts";
import { effectiveDegreesOfFreedom } from "./gum.ts";
import type { Measured } from "./odds.ts";

/** What `bestEstimate` reads of a budget's line. */
type Line = Pick<BudgetLine, "name" | "contributionNm" | "degreesOfFreedom"> & { readonly distribution: string };

/**
 * Distribution of the true clearance (nm), for the odds of a verdict. The clearance itself is shown as measured.
 *
 * An off-centre gauge is short, never long: by 0 … a (`centringNm`), so the true clearance is expected a/2 above the one
 * shown, with a/√12 left of that line of the budget instead of a/√3. Odds taken about the value shown would call bores
 * just above the upper limit "fits" in 7 % of cases instead of the 5 % stated (simulated in the tests).
 *
 * A press is long, and longer in the micrometer, which rocks in two planes, than in the bore. So a zero of presses makes
 * clearances short, by the mean excess of its smallest, μ/n = √2·μ/n over √2; between two checks this is up to 13 % less
 * than the mean of both (derived: the line is a root mean square, √3/2 of one check's half way, the mean is that of one).
 * The excess in the bore is left alone: it is the smaller one, and to take it off would leave bores just above the upper
 * limit called "fits" in 6 to 8 % of cases.
 */
export function bestEstimate(clearanceNm: number, lines: readonly Line[], centringNm: number): Measured {
  const contributions = lines.map(({ name, contributionNm }) =>
    name === LINE.centring ? contributionNm / 2 : contributionNm,
  );
  return {
    value: clearanceNm + centringNm / 2 + excessOfZero(lines),
    u: Math.hypot(...contributions),
    degreesOfFreedom: effectiveDegreesOfFreedom(
      contributions,
      lines.map((line) => line.degreesOfFreedom),
    ),
  };
}

/** How much too long the smallest press of the zero is expected to be, nm; 0 for a gauge that errs on both sides. */
function excessOfZero(lines: readonly Line[]): number {
  const zero = lines.find(({ name }) => name === LINE.zero);
  return zero?.distribution === "one-sided exponential" ? zero.contributionNm / Math.SQRT2 : 0;
}
