import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import tCdf from "@stdlib/stats-base-dists-t-cdf";

/**
 * Degrees of freedom from which Student's distribution is taken as normal: there a tail of 5 % is 5.03 %. Our choice.
 */
const MANY = 500;

/** A measured value as a distribution of the true one: value and standard uncertainty in one unit. */
export interface Measured {
  readonly value: number;
  /** Standard uncertainty, not negative; 0 makes the value certain. */
  readonly u: number;
  readonly degreesOfFreedom: number;
}

/** Share of the standard distribution (normal, or Student's when degrees of freedom are few) below `z`. */
function below(z: number, degreesOfFreedom: number): number {
  return degreesOfFreedom < MANY ? tCdf(z, degreesOfFreedom) : normalCdf(z, 0, 1);
}

/** Probability, 0 … 1, that the true value is smaller than `limit`; a limit itself belongs to the inside. */
export function probabilityBelow(measured: Measured, limit: number): number {
  if (measured.u === 0) return measured.value < limit ? 1 : 0;
  return below((limit - measured.value) / measured.u, measured.degreesOfFreedom);
}

/** Probability, 0 … 1, that the true value is larger than `limit`; a limit itself belongs to the inside. */
export function probabilityAbove(measured: Measured, limit: number): number {
  if (measured.u === 0) return measured.value > limit ? 1 : 0;
  return below((measured.value - limit) / measured.u, measured.degreesOfFreedom);
}

/**
 * Probability, 0 … 1, that the true value lies in [low, high]: p = Φ((T_U − y)/u) − Φ((T_L − y)/u).
 * Source: JCGM 106:2012, formula 10 (7.3.2); with few degrees of freedom Student's distribution takes the place of
 * the normal one.
 */
export function probabilityInside(measured: Measured, low: number, high: number): number {
  return Math.max(0, 1 - probabilityBelow(measured, low) - probabilityAbove(measured, high));
}
