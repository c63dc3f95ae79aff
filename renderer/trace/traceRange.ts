/** A range of readings, nm. */
export interface Range {
  readonly lowNm: number;
  readonly highNm: number;
}

/** Room below the smallest reading, and the least and most that the picture shows above it, nm (our choice). */
const BELOW_NM = 5_000;
const LEAST_NM = 40_000;
const MOST_NM = 160_000;

/**
 * What range of readings the trace shows: the foot of the rocking, where the truth is, in full; the tops of wide
 * rocking are cut off, and readings outside the working range (a withdrawn gauge) do not count at all, so that they
 * never squash the picture. The range `before` is kept while it still serves, so that the picture stands still.
 * Without any reading in range: `before`, or a range above the foot of the working range.
 */
export function traceRange(values: readonly number[], working: Range | null, before: Range | null): Range {
  const inside = working === null ? [...values] : values.filter((nm) => nm >= working.lowNm && nm <= working.highNm);
  if (inside.length === 0) {
    if (before !== null) return before;
    const lowNm = working?.lowNm ?? 0;
    return { lowNm, highNm: lowNm + LEAST_NM };
  }
  inside.sort((a, b) => a - b);
  const foot = inside[0] as number;
  const upper = inside[Math.floor(inside.length * 0.9)] as number;
  const span = Math.min(MOST_NM, Math.max(LEAST_NM, (upper - foot) * 1.15 + BELOW_NM));
  if (before !== null) {
    const was = before.highNm - before.lowNm;
    const footStays = foot >= before.lowNm + BELOW_NM * 0.2 && foot <= before.lowNm + was * 0.4;
    if (footStays && span <= was * 1.15 && span >= was * 0.5) return before;
  }
  return { lowNm: foot - BELOW_NM, highNm: foot - BELOW_NM + span };
}

/** A stretch of time in which the gauge was out of its working range, ms. */
export interface Away {
  readonly fromMs: number;
  readonly toMs: number;
}

/** The stretches of a trace outside the working range, oldest first; none when the range is not known. */
export function awayStretches(
  samples: readonly { readonly tMs: number; readonly valueNm: number | null }[],
  working: Range | null,
): Away[] {
  if (working === null) return [];
  const stretches: { fromMs: number; toMs: number }[] = [];
  let open: { fromMs: number; toMs: number } | null = null;
  for (const { tMs, valueNm } of samples) {
    if (valueNm === null) continue;
    const away = valueNm < working.lowNm || valueNm > working.highNm;
    if (!away) {
      open = null;
    } else if (open === null) {
      open = { fromMs: tMs, toMs: tMs };
      stretches.push(open);
    } else {
      open.toMs = tMs;
    }
  }
  return stretches;
}
