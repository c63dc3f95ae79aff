/** Stamps further from even than this share of their interval are not of an even stream. */
const UNEVEN_SHARE = 0.2;
/** The delays of a serial line are well below this, ms RMS. */
const UNEVEN_MS = 6;

/** Time stamps of a display that reads at even intervals, freed of the line's delays. */
export interface EvenStamps {
  /** Ms, one for each stamp given, on the same scale. */
  readonly tMs: Float64Array;
  /** How far the stamps were from them, ms RMS. */
  readonly scatterMs: number;
}

/**
 * Most displays read at even intervals and only the stamps scatter. Fits a straight line of time against the count of
 * intervals (least squares, missing readings allowed), and returns null if the stamps are not those of an even stream.
 * `tMs` never falls; fewer than four stamps tell nothing.
 */
export function evenStamps(tMs: Float64Array): EvenStamps | null {
  const n = tMs.length;
  if (n < 4) return null;
  const gaps = new Float64Array(n - 1);
  for (let i = 1; i < n; i += 1) gaps[i - 1] = (tMs[i] as number) - (tMs[i - 1] as number);
  const interval = Float64Array.from(gaps).sort()[(n - 1) >> 1] as number;
  if (!(interval > 0)) return null;
  const counts = new Float64Array(n);
  let meanCount = 0;
  let meanMs = 0;
  for (let i = 0; i < n; i += 1) {
    if (i > 0) {
      counts[i] = (counts[i - 1] as number) + Math.max(1, Math.round((gaps[i - 1] as number) / interval));
    }
    meanCount += (counts[i] as number) / n;
    meanMs += (tMs[i] as number) / n;
  }
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i += 1) {
    const x = (counts[i] as number) - meanCount;
    sxx += x * x;
    sxy += x * ((tMs[i] as number) - meanMs);
  }
  const slope = sxy / sxx;
  let squares = 0;
  const even = counts.map((count, i) => {
    const at = meanMs + slope * (count - meanCount);
    squares += ((tMs[i] as number) - at) ** 2;
    return at;
  });
  const scatterMs = Math.sqrt(squares / n);
  return scatterMs <= Math.min(UNEVEN_SHARE * interval, UNEVEN_MS) ? { tMs: even, scatterMs } : null;
}
