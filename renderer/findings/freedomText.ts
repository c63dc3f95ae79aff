/**
 * Degrees of freedom in words, ∞ for a line that is taken as known. Infinite is null when it came through JSON, as it
 * does to a browser, and stays infinite on its way to the window: both are the same to the reader.
 */
export function freedomText(degreesOfFreedom: number | null): string {
  if (degreesOfFreedom === null || !Number.isFinite(degreesOfFreedom) || degreesOfFreedom > 9999) return "∞";
  return degreesOfFreedom.toFixed(degreesOfFreedom < 10 ? 1 : 0);
}
