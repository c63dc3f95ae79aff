import { NM_PER_INCH, NM_PER_UM } from "../../core/length/nm.ts";
import type { Comparison } from "../../core/report/comparisonSchema.ts";

export interface ChangeScale {
  readonly fromNm: number;
  readonly toNm: number;
  /** Where lines are drawn, zero among them, nm. */
  readonly marksNm: readonly number[];
}

/** Steps between lines: so many micrometres, or hundred-thousandths of an inch. */
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000];
const MOST_LINES = 6;

/**
 * A range of changes that holds every one with its uncertainty, and zero; never narrower than a few micrometres. Lines
 * stand at round figures of the unit that is read.
 */
export function changeScale(bores: Comparison["bores"], inches: boolean): ChangeScale {
  let low = -2 * NM_PER_UM;
  let high = 2 * NM_PER_UM;
  for (const { stations } of bores) {
    for (const { changeNm, uncertaintyNm } of stations) {
      if (changeNm === null) continue;
      low = Math.min(low, changeNm - (uncertaintyNm ?? 0));
      high = Math.max(high, changeNm + (uncertaintyNm ?? 0));
    }
  }
  const room = (high - low) * 0.06;
  const fromNm = low - room;
  const toNm = high + room;
  const each = inches ? NM_PER_INCH / 100_000 : NM_PER_UM;
  const step = STEPS.map((one) => one * each).find((one) => (toNm - fromNm) / one <= MOST_LINES) ?? toNm - fromNm;
  const first = Math.ceil(fromNm / step);
  const count = Math.floor(toNm / step) - first + 1;
  return { fromNm, toNm, marksNm: Array.from({ length: count }, (_, index) => (first + index) * step) };
}
