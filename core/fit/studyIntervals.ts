import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import fQuantile from "@stdlib/stats-base-dists-f-quantile";

/** A mean square with its degrees of freedom and its coefficient in a component of variance. */
export interface WeightedMeanSquare {
  readonly coefficient: number;
  readonly meanSquare: number;
  readonly degreesOfFreedom: number;
}

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Confidence interval of a component of variance γ = Σ c·MS, cut at 0, two-sided at `confidence` (inside 0 … 1).
 *
 * One mean square: exact, from chi-square. Several: the modified large-sample bounds, which for sums alone are those of
 * Graybill and Wang (JASA 75, 1980), and with negative coefficients carry the cross terms of Ting, Burdick, Graybill,
 * Jeyaratnam and Lu (J. Statist. Comput. Simul. 35, 1990), as reviewed for gauge studies by Burdick, Borror and
 * Montgomery (J. Quality Technology 35, 2003). Recalled; the coverage is checked by simulation in the tests.
 */
export function varianceInterval(terms: readonly WeightedMeanSquare[], confidence: number): Interval {
  const tail = (1 - confidence) / 2;
  let estimate = 0;
  let below = 0;
  let above = 0;
  for (const { coefficient, meanSquare, degreesOfFreedom: n } of terms) {
    const part = coefficient * meanSquare;
    estimate += part;
    const shrink = 1 - n / chiSquareQuantile(1 - tail, n);
    const stretch = n / chiSquareQuantile(tail, n) - 1;
    below += ((coefficient > 0 ? shrink : stretch) * part) ** 2;
    above += ((coefficient > 0 ? stretch : shrink) * part) ** 2;
  }
  for (const plus of terms) {
    for (const minus of terms) {
      if (plus.coefficient <= 0 || minus.coefficient >= 0) continue;
      const product = -plus.coefficient * minus.coefficient * plus.meanSquare * minus.meanSquare;
      below += lowerCross(plus.degreesOfFreedom, minus.degreesOfFreedom, tail) * product;
      above += upperCross(plus.degreesOfFreedom, minus.degreesOfFreedom, tail) * product;
    }
  }
  return {
    low: Math.max(0, estimate - Math.sqrt(Math.max(0, below))),
    high: Math.max(0, estimate + Math.sqrt(Math.max(0, above))),
  };
}

function lowerCross(plus: number, minus: number, tail: number): number {
  const f = fQuantile(1 - tail, plus, minus);
  const shrink = 1 - plus / chiSquareQuantile(1 - tail, plus);
  const stretch = minus / chiSquareQuantile(tail, minus) - 1;
  return ((f - 1) ** 2 - (shrink * f) ** 2 - stretch ** 2) / f;
}

function upperCross(plus: number, minus: number, tail: number): number {
  const f = fQuantile(tail, plus, minus);
  const stretch = plus / chiSquareQuantile(tail, plus) - 1;
  const shrink = 1 - minus / chiSquareQuantile(1 - tail, minus);
  return ((1 - f) ** 2 - (stretch * f) ** 2 - shrink ** 2) / f;
}
