/**
 * Length (nm) between two points `gapNm` apart when the line of a two-point gauge with spherical contacts of radius
 * `radiusNm` is tilted by `tilt` (radians): `(gap − 2R)/cos θ + 2R`. Smallest when square, never shorter than the gap.
 * Derived: the centres of the two spheres lie on surfaces `gap − 2R` apart, and their line is tilted by θ.
 */
export function tiltedLength(gapNm: number, radiusNm: number, tilt: number): number {
  return (gapNm - 2 * radiusNm) / Math.cos(tilt) + 2 * radiusNm;
}

/**
 * Chord (nm) of a bore of diameter `diameterNm` at `offCentreNm` from its axis: `√(D² − 4e²)`, never longer than the
 * diameter. Derived from the circle. `offCentreNm` lies within the radius.
 */
export function chord(diameterNm: number, offCentreNm: number): number {
  return Math.sqrt(diameterNm * diameterNm - 4 * offCentreNm * offCentreNm);
}

/** Tilt (radians, not negative) at which `tiltedLength` is `excessNm` longer than the gap; `excessNm` not negative. */
export function tiltOfExcess(gapNm: number, radiusNm: number, excessNm: number): number {
  const core = gapNm - 2 * radiusNm;
  return Math.acos(core / (core + excessNm));
}
