/** The tilt that a clearance allows, in radians, not negative. */
export interface Tilt {
  /** Exact for a round lifter in a round bore. */
  readonly radians: number;
  /** c/L, which is enough for any clearance of the trade. */
  readonly smallAngle: number;
}

/**
 * How far a lifter can tilt in its bore before it touches at both ends of the guided length, from the clearance on
 * diameter, the lifter's diameter and the guided length along the bore (all nm, diameter and length above 0). Derived
 * here: seen from the side, the lifter is a strip of width d through a slot of width D = d + c and length L. It touches
 * the slot at two corners that lie across from each other; their distance across a strip tilted by θ is
 * D·cos θ − L·sin θ, which is d when both touch. With tan φ = L/D that is √(D² + L²)·cos(θ + φ) = d, so
 * θ = arccos(d/√(D² + L²)) − φ. For a small angle sin θ = θ, cos θ = 1: θ = c/L.
 * Without a gap (c ≤ 0) nothing can tilt: 0.
 * @throws RangeError for a diameter or length that is not above 0, or a clearance that is not finite.
 */
export function tiltAllowed(clearanceNm: number, lifterNm: number, guidedNm: number): Tilt {
  if (!(lifterNm > 0 && guidedNm > 0) || !Number.isFinite(clearanceNm + lifterNm + guidedNm)) {
    throw new RangeError(
      `found a lifter of ${lifterNm} nm guided over ${guidedNm} nm with a clearance of ${clearanceNm} nm; expected lengths above 0 and a finite clearance`,
    );
  }
  if (clearanceNm <= 0) return { radians: 0, smallAngle: 0 };
  const boreNm = lifterNm + clearanceNm;
  const radians = Math.acos(lifterNm / Math.hypot(boreNm, guidedNm)) - Math.atan2(guidedNm, boreNm);
  return { radians, smallAngle: clearanceNm / guidedNm };
}
