import type { JudgedReference } from "../../zero/reference.ts";
import { zeroAt } from "../../zero/zeroAt.ts";
import type { WalkStation } from "../walkStations.ts";
import type { SeenStation } from "./sight.ts";

/** The closed stations whose zero holds, over that zero with the gauge's gain applied, in the order they closed. */
export function seenStations(
  stations: readonly WalkStation[],
  references: readonly JudgedReference[],
  gain: number,
): SeenStation[] {
  const seen: SeenStation[] = [];
  for (const { bore, place, collector } of stations) {
    const { closedMs, valueNm, sweeps } = collector;
    if (closedMs === null || valueNm === null) continue;
    const zero = zeroAt(references, closedMs);
    if (zero.state !== "held" && zero.state !== "unchecked") continue;
    seen.push({ bore, place, tMs: closedMs, overZeroNm: gain * (valueNm - zero.valueNm), sweeps });
  }
  return seen.sort((one, other) => one.tMs - other.tMs);
}
