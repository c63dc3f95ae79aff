import normalCdf from "@stdlib/stats-base-dists-normal-cdf";

/** Mean and root mean square of the range of n normal values of unit standard deviation. */
export interface RangeFactor {
  /** d2. */
  readonly mean: number;
  /** d2* of a single range, √(d2² + d3²). */
  readonly rootMeanSquare: number;
}

const SPAN = 8;
const STEP = 0.1;

/**
 * The range's factors for `count` values (at least 2), by integration on two grids, extrapolated (better than 1e-5):
 * E R = ∫(1 − (1−Φ)ⁿ − Φⁿ)dx, E R² = 2∬_{x<y}(1 − Φ(y)ⁿ − (1−Φ(x))ⁿ + (Φ(y)−Φ(x))ⁿ)dx dy.
 * Source: Tippett, Biometrika 17 (1925); d2* by Duncan, "Quality Control and Industrial Statistics", appendix.
 */
export function rangeFactor(count: number): RangeFactor {
  if (!Number.isInteger(count) || count < 2) throw new RangeError(`range of ${count} values: expected 2 or more`);
  const coarse = momentsOnGrid(count, STEP);
  const fine = momentsOnGrid(count, STEP / 2);
  // The trapezoidal rule errs with the square of the step.
  return { mean: fine.mean, rootMeanSquare: Math.sqrt((4 * fine.square - coarse.square) / 3) };
}

function momentsOnGrid(count: number, step: number) {
  const steps = Math.round((2 * SPAN) / step);
  const shares = Array.from({ length: steps + 1 }, (_, at) => normalCdf(-SPAN + at * step, 0, 1));
  let mean = 0;
  let square = 0;
  shares.forEach((x, at) => {
    const left = 1 - (1 - x) ** count;
    mean += left - x ** count;
    square += (left - x ** count) / 2;
    for (let beyond = at + 1; beyond <= steps; beyond += 1) {
      const y = shares[beyond] ?? 1;
      square += left - y ** count + (y - x) ** count;
    }
  });
  return { mean: mean * step, square: 2 * square * step ** 2 };
}
