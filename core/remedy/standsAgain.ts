import type { FitInput } from "../fit/finding.ts";
import { coverageFactor } from "../fit/gum.ts";
import { type Judged, judge } from "../fit/verdict.ts";
import type { BoreInHand } from "./boreOptions.ts";
import { FOUND_TO_FIT } from "./finishWindow.ts";
import { isStandIn } from "./lifterIn.ts";
import type { MeasureOn } from "./remedyOption.ts";

/** How well a later measurement is known, nm. */
type Known = Pick<Judged, "u" | "degreesOfFreedom">;

/**
 * Whether a bore that fits and is not cut will be found to fit again, 95 times in 100, when it is measured once more, as
 * well as `later` says (as well as now where that is null). Derived here: two measurements of one bore differ by
 * √(u² + u_later²), as if nothing of their errors were shared, which is the worst; so it stands if it would still fit
 * under the later budget with every station t(95 %) times that off, to either side.
 */
export function standsAgain(
  stations: readonly Judged[],
  later: Known | null,
  { limits, rule }: Pick<FitInput, "limits" | "rule">,
): boolean {
  const off = (sign: 1 | -1) => (station: Judged) => {
    const { u, degreesOfFreedom } = later ?? station;
    const fewest = Math.min(degreesOfFreedom, station.degreesOfFreedom);
    const byNm = sign * coverageFactor(2 * FOUND_TO_FIT - 1, fewest) * Math.hypot(station.u, u);
    return {
      clearanceNm: station.clearanceNm + byNm,
      value: station.value + byNm,
      u,
      degreesOfFreedom,
    };
  };
  return ([1, -1] as const).every((sign) => {
    return judge(stations.map(off(sign)), limits, rule).verdict === "fits";
  });
}

/**
 * What must be in the micrometer for a bore that fits with `lifter` (by name; null: what stands in for its own) to be found
 * to fit again: any lifter, or that very one, with which the micrometer's error is not twice in the clearance; null when
 * neither is sure to do.
 */
export function standsOn({ input, bore, finding, fits }: BoreInHand, lifter: string | null): MeasureOn | null {
  const onItsOwn = bore.stations.map(({ ofReference }) => ofReference);
  const stations = lifter === null || isStandIn(input, bore, finding) ? onItsOwn : fits.of(bore.name, lifter).stations;
  if (stations.length === 0) return null;
  if (standsAgain(stations, null, input)) return "any lifter";
  const u = Math.max(...onItsOwn.map((station) => station.u));
  const degreesOfFreedom = Math.min(...onItsOwn.map((station) => station.degreesOfFreedom));
  return standsAgain(stations, { u, degreesOfFreedom }, input) ? "its lifter" : null;
}
