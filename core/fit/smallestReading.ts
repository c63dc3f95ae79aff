import { type Nm, toNm } from "../length/nm.ts";
import { median } from "../sweep/median.ts";
import type { Sweep } from "../sweep/sweep.ts";
import { judgeReferences } from "../zero/judgeReferences.ts";
import type { FitInput } from "./finding.ts";

/** What counts as the value of a sweep. */
export const SWEEP_VALUES = ["turning-point", "smallest-reading"] as const;

/**
 * The same sweeps of the same stations and zeros, each read by its smallest sampled reading in place of its turning
 * point; which sweeps count stays as it was judged. Only a stream has the two apart: from presses and held minima the
 * input comes back as it is.
 *
 * The smallest of a few samples is nearly always long, by more the slower the display. That error is shared by the sweeps
 * of a station, so neither their scatter nor their number shows it, and it is one of the bore and of the micrometer. It
 * is known here, from the turning points of the same sweeps, and is left uncorrected, since correcting it would give the
 * turning points back; so the budget takes its root mean square over the session, once at the bore and once at the zero
 * (GUM F.2.4.5, a known effect left uncorrected). They partly cancel in the difference, by how much nobody knows: the
 * stated uncertainty is on the safe side. Derived here.
 */
export function bySmallestReading(input: FitInput, zeroHoldNm: Nm): FitInput {
  if (input.sends !== "stream") return input;
  return {
    ...input,
    stations: input.stations.map(readAgain),
    references: judgeReferences(input.references.map(readAgain), zeroHoldNm),
    sampling: { boreNm: beyond(input.stations), zeroNm: beyond(input.references) },
  };
}

const kept = (sweeps: readonly Sweep[]) => sweeps.filter(({ use }) => use === "kept");

function readAgain<T extends { readonly valueNm: Nm; readonly spreadNm: Nm; readonly sweeps: readonly Sweep[] }>(
  measured: T,
): T {
  const readings = kept(measured.sweeps).map(({ rawMinNm }) => rawMinNm);
  if (readings.length === 0) return measured;
  return {
    ...measured,
    valueNm: toNm(median(readings)),
    spreadNm: toNm(Math.max(...readings) - Math.min(...readings)),
    sweeps: measured.sweeps.map((sweep) => ({ ...sweep, turningPointNm: sweep.rawMinNm })),
  };
}

/** How far the smallest readings of kept sweeps lie from their turning points, root mean square, nm; 0 without any. */
function beyond(measured: readonly { readonly sweeps: readonly Sweep[] }[]): number {
  const apart = measured.flatMap(({ sweeps }) => kept(sweeps).map((sweep) => sweep.rawMinNm - sweep.turningPointNm));
  if (apart.length === 0) return 0;
  return Math.sqrt(apart.reduce((sum, nm) => sum + nm ** 2, 0) / apart.length);
}
