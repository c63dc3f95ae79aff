import type { Sends } from "../gauge/profile.ts";

/** Mean square over all places between two graduations of the bias left by a dither, in squared graduations. */
function biasSquare(dither: number): number {
  if (dither === 0) return 1 / 12;
  let sum = 0;
  for (let k = 1; k <= 400; k += 1) {
    const term = Math.exp(-4 * (Math.PI * k * dither) ** 2) / (2 * (Math.PI * k) ** 2);
    sum += term;
    if (term < 1e-9) break;
  }
  return sum;
}

/**
 * The dither σ (in graduations) behind readings that scatter by `shown` graduations once rounded.
 *
 * Derived here from the Fourier series of the rounding error: over all places between two graduations a normal dither
 * of standard deviation σ leaves the mean of many readings a bias of mean square b² = Σ q²/(2π²k²)·exp(−4π²k²σ²/q²), and
 * the readings a scatter s² = σ² + q²/12 − b². This solves the second for σ; 0 when they show less than rounding alone.
 */
function ditherBehind(shown: number): number {
  if (shown === 0) return 0;
  // From one graduation on, b² is below a millionth.
  if (shown ** 2 >= 1 + 1 / 12) return Math.sqrt(shown ** 2 - 1 / 12);
  let low = 0;
  let high = 1;
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (middle ** 2 + 1 / 12 - biasSquare(middle) < shown ** 2) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Standard deviation (nm) of the readings before the display rounded them to its graduation, from that of the displayed
 * ones; neither argument negative. So that rounding, which has a line of its own, is not counted as repeatability too.
 */
export function scatterBeforeRounding(resolutionNm: number, scatterNm: number): number {
  return resolutionNm === 0 ? scatterNm : resolutionNm * ditherBehind(scatterNm / resolutionNm);
}

/**
 * Standard uncertainty (nm) that a display's graduation q adds to a station value; `scatterNm` is the standard deviation
 * of its single sweeps. Neither is negative.
 *
 * Presses and held minima: q/√12 (GUM F.2.2.1), whatever their scatter, because the median and the smallest of rounded
 * readings are the rounded median and the rounded smallest. A stream's turning points are fitted through many rounded
 * samples, so rounding shows in their scatter already; what that leaves is the bias b above, which is q/√12 again when
 * they do not scatter. The samples scatter more than the turning points, so this is rather too much.
 */
export function resolutionUncertainty(resolutionNm: number, sends: Sends, scatterNm: number): number {
  if (sends !== "stream") return resolutionNm / Math.sqrt(12);
  return resolutionNm * Math.sqrt(biasSquare(ditherBehind(scatterNm / resolutionNm)));
}
