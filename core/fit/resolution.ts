import type { Repeatability } from "./repeatability.ts";

/** Mean square over all places between two graduations of the bias left by a dither, in squared graduations. */
function biasSquare(dither: number): number {
  if (dither === 0) return 1 / 12;
  let sum = 0;
  for (let k = 1; k <= 400; k += 1) {
    const term = Math.exp(-4 * (Math.PI * k * dither) ** 2) / (2 * (Math.PI * k) ** 2);
    sum += term;
    if (term < 1e-9) break;
  }
  return Math.min(sum, 1 / 12);
}

/**
 * Standard uncertainty (nm) that a display's graduation adds to a value taken from several of its readings.
 *
 * `resolutionNm` q is the graduation, not negative; s below is the standard deviation of single readings as displayed.
 * q/√12 (GUM F.2.2.1) when the readings repeat exactly, and always for presses, whose smallest is one rounded reading. Readings that scatter over graduations carry part of
 * the rounding in their scatter already, and counting it twice would overstate the uncertainty: derived here from the
 * Fourier series of the rounding error, a normal dither of standard deviation σ leaves the mean a bias of mean square
 * b² = Σ q²/(2π²k²)·exp(−4π²k²σ²/q²), and shows a scatter s² = σ² + q²/12 − b². The second is solved for σ, the first
 * gives the line.
 */
export function resolutionUncertainty(resolutionNm: number, { sends, scatterNm }: Repeatability): number {
  if (resolutionNm === 0) return 0;
  if (sends === "press") return resolutionNm / Math.sqrt(12);
  const shown = (scatterNm / resolutionNm) ** 2;
  let low = 0;
  let high = 1;
  // From one graduation of scatter on, what is left is below a millionth of a graduation.
  if (shown >= high ** 2 + 1 / 12) return 0;
  if (shown > 0) {
    for (let step = 0; step < 40; step += 1) {
      const middle = (low + high) / 2;
      if (middle ** 2 + 1 / 12 - biasSquare(middle) < shown) low = middle;
      else high = middle;
    }
  }
  return resolutionNm * Math.sqrt(biasSquare(low));
}
