import tQuantile from "@stdlib/stats-base-dists-t-quantile";

/** Level of the test, two-sided. */
const LEVEL = 0.01;
const critical = new Map<number, number>();

/**
 * Critical value of Grubbs' statistic for `n` values (3 or more) at 1 %, two-sided:
 * `(n−1)/√n · √(t²/(n−2+t²))` with t the upper `α/(2n)` point of Student's t with n−2 degrees of freedom.
 * Source: F. E. Grubbs, Technometrics 11 (1969) 1-21; the closed form from memory, compared in the tests with his
 * tabulated values.
 */
export function grubbsCritical(n: number): number {
  const known = critical.get(n);
  if (known !== undefined) return known;
  const t = tQuantile(1 - LEVEL / (2 * n), n - 2);
  const value = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  critical.set(n, value);
  return value;
}

/**
 * Index of the one value that Grubbs' test calls an outlier (the farthest from the mean, `|x − mean|/s` above the
 * critical value), or null. With fewer than three values, or all equal, there is none.
 */
export function grubbsOutlier(values: readonly number[]): number | null {
  const n = values.length;
  if (n < 3) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  let squares = 0;
  let farthest = 0;
  let distance = -1;
  for (const [index, value] of values.entries()) {
    const away = Math.abs(value - mean);
    squares += away * away;
    if (away > distance) {
      distance = away;
      farthest = index;
    }
  }
  const s = Math.sqrt(squares / (n - 1));
  return s > 0 && distance / s > grubbsCritical(n) ? farthest : null;
}
