/** A probability (0 … 1) in per cent; what is not certain is never printed as 100 % or 0 %. */
export function percentText(probability: number): string {
  if (probability > 0.9995) return "over 99.9\u00a0%";
  if (probability < 0.0005) return "under 0.1\u00a0%";
  return `${(probability * 100).toFixed(1)}\u00a0%`;
}

/** Degrees of freedom; ∞ for a line taken as exact, which files write as null. */
export function freedomText(degreesOfFreedom: number | null): string {
  if (degreesOfFreedom === null || !Number.isFinite(degreesOfFreedom) || degreesOfFreedom > 9999) return "∞";
  return degreesOfFreedom.toFixed(degreesOfFreedom < 10 ? 1 : 0);
}
