/** A least-squares parabola y = atCentre + slope·u + curvature·u² with u = (x − centre)/scale. */
export interface QuadraticFit {
  /** Mean of the x. */
  readonly centre: number;
  /** Half of the range of the x, positive. */
  readonly scale: number;
  readonly atCentre: number;
  readonly slope: number;
  readonly curvature: number;
  /** The same parabola as B0 + B1·x + B2·x²; far from the origin B0 and B1 keep fewer digits than the centred form. */
  readonly coefficients: readonly [b0: number, b1: number, b2: number];
  /** √(Σ residual² / (n − 3)); 0 with three points. */
  readonly residualDeviation: number;
}

/**
 * Fits a parabola by least squares to three or more points, x centred and scaled first and the powers made orthogonal on
 * the points (raw normal equations lose the digits). Null with fewer than three different x. `y` is as long as `x`.
 * Source: Forsythe, "Generation and use of orthogonal polynomials for data-fitting with a digital computer", J. SIAM 5
 * (1957); recalled.
 */
export function fitQuadratic(x: readonly number[], y: readonly number[]): QuadraticFit | null {
  const n = x.length;
  const low = Math.min(...x);
  const high = Math.max(...x);
  const scale = (high - low) / 2;
  const centre = low + sum(x.map((value) => value - low)) / n;
  const u = x.map((value) => (value - centre) / scale);
  // Orthogonal polynomials on these points: 1, u, u² − p·u − q.
  const s11 = sum(u.map((value) => value * value));
  const p = sum(u.map((value) => value ** 3)) / s11;
  const q = s11 / n;
  const second = u.map((value) => value * value - p * value - q);
  const s22 = sum(second.map((value) => value * value));
  // Nothing is left of the second degree where there are two different x, and no number where there is one.
  if (!(s22 > 1e-9 * n)) return null;
  const mean = sum(y) / n;
  const tilt = sum(u.map((value, i) => value * (y[i] as number))) / s11;
  const curvature = sum(second.map((value, i) => value * (y[i] as number))) / s22;
  const slope = tilt - curvature * p;
  const atCentre = mean - curvature * q;
  const squares = sum(
    u.map((value, i) => ((y[i] as number) - atCentre - slope * value - curvature * value * value) ** 2),
  );
  const b2 = curvature / scale ** 2;
  const perX = slope / scale;
  return {
    centre,
    scale,
    atCentre,
    slope,
    curvature,
    coefficients: [atCentre - centre * (perX - b2 * centre), perX - 2 * b2 * centre, b2],
    residualDeviation: n > 3 ? Math.sqrt(squares / (n - 3)) : 0,
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
