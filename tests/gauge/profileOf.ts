import type { GaugeProfile } from "../../core/gauge/profile.ts";
import type { Nm } from "../../core/length/nm.ts";

/** A bore gauge in inch with a step of 0.00005 in, changed as a test needs it. */
export function profileOf(changes: Partial<GaugeProfile> = {}): GaugeProfile {
  return {
    id: "bore",
    role: "bore",
    sends: "stream",
    unit: "in",
    resolutionNm: 1270 as Nm,
    polarity: 1,
    line: "auto",
    ...changes,
  };
}
