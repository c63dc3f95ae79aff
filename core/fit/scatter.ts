/** Mean, sum of squared deviations and standard deviation of some values. */
export interface Scatter {
  readonly count: number;
  readonly mean: number;
  /** Σ(x − mean)². */
  readonly sumSquares: number;
  /** √(sumSquares/(count − 1)); 0 with fewer than two values. */
  readonly deviation: number;
}

/**
 * Mean and scatter in two passes, of the values relative to the first of them. A one-pass sum of squares loses every
 * digit when the values are large beside their scatter. Source: Chan, Golub and LeVeque, "Algorithms for computing the
 * sample variance" (1983), the two-pass algorithm on shifted data.
 * @throws RangeError without values.
 */
export function scatterOf(values: readonly number[]): Scatter {
  const origin = values[0];
  if (origin === undefined) throw new RangeError("scatter of no values: expected at least one");
  const count = values.length;
  let sum = 0;
  for (const value of values) sum += value - origin;
  const shift = sum / count;
  let sumSquares = 0;
  for (const value of values) sumSquares += (value - origin - shift) ** 2;
  return { count, mean: origin + shift, sumSquares, deviation: count < 2 ? 0 : Math.sqrt(sumSquares / (count - 1)) };
}

/** Scatter within several groups, each about its own mean. */
export interface PooledScatter {
  /** √(ΣΣ(x − mean_j)² / Σ(n_j − 1)); 0 without degrees of freedom. */
  readonly deviation: number;
  /** Σ(n_j − 1). */
  readonly degreesOfFreedom: number;
}

/** Pools the scatter of groups; empty groups count for nothing. Source: GUM 4.2.4, pooled estimate of variance. */
export function pooledScatter(groups: readonly (readonly number[])[]): PooledScatter {
  let sumSquares = 0;
  let degreesOfFreedom = 0;
  for (const group of groups) {
    if (group.length < 2) continue;
    sumSquares += scatterOf(group).sumSquares;
    degreesOfFreedom += group.length - 1;
  }
  return { deviation: degreesOfFreedom === 0 ? 0 : Math.sqrt(sumSquares / degreesOfFreedom), degreesOfFreedom };
}
