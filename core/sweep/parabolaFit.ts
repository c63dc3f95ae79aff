import { fitQuadratic } from "./quadraticFit.ts";

/** The lowest point of a parabola and how well it is known, in the units of the readings. */
export interface Vertex {
  readonly lowest: number;
  /** Standard deviation of the residuals, three unknowns allowed for; 0 with three points. */
  readonly rms: number;
}

/**
 * Fits `y = a + b·x + c·x²` by least squares to three or more points and returns its lowest point. Null if the parabola
 * opens downwards, its lowest point lies beyond the points, or they do not settle it.
 */
export function parabolaVertex(x: readonly number[], y: readonly number[]): Vertex | null {
  const fit = fitQuadratic(x, y);
  if (fit === null || !(fit.curvature > 0)) return null;
  const at = -fit.slope / (2 * fit.curvature);
  const atX = fit.centre + at * fit.scale;
  if (atX < Math.min(...x) || atX > Math.max(...x)) return null;
  return { lowest: fit.atCentre + (fit.slope * at) / 2, rms: fit.residualDeviation };
}
