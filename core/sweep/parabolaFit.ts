/** The lowest point of a parabola and how well it is known, in the units of the readings. */
export interface Vertex {
  readonly lowest: number;
  /** Root mean square of the residuals; 0 with three points. */
  readonly rms: number;
}

/**
 * Fits `y = a + b·x + c·x²` by least squares to three or more points, x centred and scaled first (raw normal equations
 * lose the digits), and returns its lowest point. Null if the parabola opens downwards, its lowest point lies beyond the
 * points, or they do not settle it.
 */
export function parabolaVertex(x: readonly number[], y: readonly number[]): Vertex | null {
  const n = x.length;
  if (n < 3) return null;
  const low = Math.min(...x);
  const high = Math.max(...x);
  const scale = (high - low) / 2;
  if (!(scale > 0)) return null;
  const middle = (low + high) / 2;
  const z = x.map((value) => (value - middle) / scale);
  // Orthogonal polynomials on these points: 1, z − m, (z − m)² − p(z − m) − q.
  const mean = z.reduce((sum, value) => sum + value, 0) / n;
  const p1 = z.map((value) => value - mean);
  const s11 = p1.reduce((sum, value) => sum + value * value, 0);
  const cube = p1.reduce((sum, value) => sum + value ** 3, 0) / s11;
  const p2 = p1.map((value) => value * value - cube * value - s11 / n);
  const s22 = p2.reduce((sum, value) => sum + value * value, 0);
  if (!(s22 > 1e-9 * n)) return null;
  const project = (basis: readonly number[], norm: number) =>
    basis.reduce((sum, value, i) => sum + value * (y[i] as number), 0) / norm;
  const c0 = y.reduce((sum, value) => sum + value, 0) / n;
  const c1 = project(p1, s11);
  const c2 = project(p2, s22);
  if (!(c2 > 0)) return null;
  const v = (c2 * cube - c1) / (2 * c2);
  if (v < Math.min(...p1) || v > Math.max(...p1)) return null;
  const at = (value: number) => c0 + c1 * value + c2 * (value * value - cube * value - s11 / n);
  const squares = p1.reduce((sum, value, i) => sum + ((y[i] as number) - at(value)) ** 2, 0);
  return { lowest: at(v), rms: n > 3 ? Math.sqrt(squares / (n - 3)) : 0 };
}
