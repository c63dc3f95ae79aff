import type { Sweep } from "../../core/sweep/sweep.ts";

/**
 * Sweeps to mark on a trace, one a time: those told of as they came, and those of the open station, which know better
 * what has become of each since (struck, set aside).
 */
export function recentSweeps(told: readonly Sweep[], open: readonly Sweep[]): Sweep[] {
  const byTime = new Map<number, Sweep>();
  for (const sweep of told) byTime.set(sweep.tMs, sweep);
  for (const sweep of open) byTime.set(sweep.tMs, sweep);
  return [...byTime.values()].sort((a, b) => a.tMs - b.tMs);
}
