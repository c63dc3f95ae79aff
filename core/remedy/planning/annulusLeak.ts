/** What the oil between a lifter and its bore is taken to be like. */
export interface OilGap {
  /** Diameter of the lifter, nm, above 0. */
  readonly diameterNm: number;
  /** Clearance on diameter, bore less lifter, nm, signed; the radial gap is half of it. */
  readonly clearanceNm: number;
  /** Pressure difference along the gap, Pa, 0 … 10 MPa. */
  readonly pressurePa: number;
  /** Dynamic viscosity of the oil as warm as it is in the gap, Pa·s, 0.0005 … 10. */
  readonly viscosityPaS: number;
  /** Length of the gap along the bore, nm, above 0. */
  readonly lengthNm: number;
  /** How far off the bore's axis the lifter runs: 0 concentric … 1 touching. */
  readonly eccentricity: number;
}

/** Beyond this radial gap the flow need no longer be laminar, nor the gap small beside the diameter, nm. Our choice. */
export const WIDEST_GAP_NM = 250_000;

/** A leak past a lifter: a flow, none because there is no gap, or none that the formula could tell. */
export type Leak =
  | { readonly state: "flows"; readonly m3PerS: number }
  | { readonly state: "no gap"; readonly m3PerS: 0 }
  | { readonly state: "too wide"; readonly m3PerS: null };

/**
 * Oil that leaks past a lifter, by laminar flow through an annulus, m³/s:
 * Q = π·D·c³·Δp·(1 + 1.5·ε²)/(12·µ·L), c the *radial* gap. Source: a fluid-power text, eq. 2.19, with 2.5 times as much
 * at full eccentricity (read). Assumes one viscosity throughout, a straight round gap that is small beside the diameter,
 * no tilt and no losses at its ends. An interference has no gap and no leak; a gap beyond 0.25 mm is not told.
 * @throws RangeError for anything outside the bounds that `OilGap` states.
 */
export function annulusLeak(gap: OilGap): Leak {
  const { diameterNm, clearanceNm, pressurePa, viscosityPaS, lengthNm, eccentricity } = gap;
  within("a diameter", diameterNm, Number.MIN_VALUE, 1e9, "nm");
  within("a clearance", clearanceNm, -1e9, 1e9, "nm");
  within("a pressure difference", pressurePa, 0, 1e7, "Pa");
  within("a viscosity", viscosityPaS, 0.0005, 10, "Pa·s");
  within("a length of the gap", lengthNm, Number.MIN_VALUE, 1e9, "nm");
  within("an eccentricity", eccentricity, 0, 1, "");
  if (clearanceNm <= 0) return { state: "no gap", m3PerS: 0 };
  if (clearanceNm > 2 * WIDEST_GAP_NM) return { state: "too wide", m3PerS: null };
  const radialM = (clearanceNm / 2) * 1e-9;
  const concentric = (Math.PI * diameterNm * 1e-9 * radialM ** 3 * pressurePa) / (12 * viscosityPaS * lengthNm * 1e-9);
  return { state: "flows", m3PerS: concentric * (1 + 1.5 * eccentricity ** 2) };
}

/**
 * How many times as much leaks at one clearance on diameter as at another (both nm, the other above 0), all else alike:
 * (c/c₀)³, from the formula above. An interference leaks nothing: 0.
 * @throws RangeError when there is no gap to compare with.
 */
export function leakRatio(clearanceNm: number, besideNm: number): number {
  if (!(besideNm > 0))
    throw new RangeError(`found a clearance of ${besideNm} nm to compare with; expected one above 0`);
  return clearanceNm <= 0 ? 0 : (clearanceNm / besideNm) ** 3;
}

function within(what: string, value: number, least: number, most: number, unit: string): void {
  if (value >= least && value <= most) return;
  const from = least === Number.MIN_VALUE ? "above 0" : `from ${least}`;
  throw new RangeError(
    `found ${what} of ${value} ${unit}`.trimEnd().concat(`; expected one ${from} to ${most} ${unit}`).trimEnd(),
  );
}
