import type { Nm } from "../length/nm.ts";
import type { GaugeUnit } from "../length/unit.ts";

/** What a gauge measures in this job. */
export type GaugeRole = "bore" | "micrometer";

/**
 * How a gauge sends: `stream` readings all the time; `press` one reading for each press of its data button, the value
 * at that instant; `held` each press sends the minimum that the gauge itself held during the sweep.
 */
export type Sends = "stream" | "press" | "held";

/** +1 if the indicator counts up as the measured size grows, -1 if it counts down. */
export type Polarity = 1 | -1;

/** Names of the line formats a profile may ask for; `auto` tries them all and keeps the one that fits. */
export type LineFormatName = "auto" | "decimal" | "decimal-unit" | "decimal-comma" | "channel-tagged";

/** What the program must know of a gauge to turn its lines into readings. */
export interface GaugeProfile {
  readonly id: string;
  readonly role: GaugeRole;
  readonly sends: Sends;
  /** The unit of a line that carries no unit mark. */
  readonly unit: GaugeUnit;
  /** Smallest step of the display, nm, positive. */
  readonly resolutionNm: Nm;
  readonly polarity: Polarity;
  readonly line: LineFormatName;
  /** What to write to a gauge that only speaks when asked, as sent; absent if it speaks by itself. */
  readonly request?: string;
}
