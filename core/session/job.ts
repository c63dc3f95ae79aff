import type { Layout, StationPlace } from "../block/layout.ts";
import type { BudgetSettings, Limits, Rule } from "../fit/finding.ts";
import type { GaugeProfile } from "../gauge/profile.ts";
import type { Nm } from "../length/nm.ts";

export type LifterStyle = "flat" | "roller";

/** What the pairing must respect for the lifter of one bore. */
export interface LifterNote {
  readonly used?: boolean;
  readonly pairedWith?: string;
  readonly pinned?: boolean;
}

/** The serial side of a gauge, as the job states it; what is absent is learnt or takes the host's default. */
export interface SerialSettings {
  readonly baud?: number;
  /** Data bits, parity, stop bits, such as "8N1" or "7E2". */
  readonly framing?: string;
  readonly dtr?: boolean;
  readonly rts?: boolean;
  /** Time between opening and the first trusted line, ms. */
  readonly settleMs?: number;
}

export interface JobGauge extends GaugeProfile {
  readonly serial?: SerialSettings;
}

/** The plan of the work, every default filled in and every length in nanometres. */
export interface Job {
  readonly title: string;
  readonly block: string;
  readonly operator: string;
  readonly layout: Layout;
  /** Bores in the order they are walked; each at most once. */
  readonly walk: readonly string[];
  readonly walkKind: "bank" | "firing" | "own";
  /** Stations of every bore, in the order they are measured; at least one. */
  readonly stations: readonly StationPlace[];
  readonly lifter: { readonly style: LifterStyle; readonly nominalNm: Nm };
  readonly limits: Limits;
  readonly materials: { readonly block: string; readonly lifter: string };
  readonly rule: Rule;
  readonly sweepsPerStation: number;
  readonly agreementNm: Nm;
  /** A return check is asked for after this many bores; 0 = none asked for. */
  readonly returnCheckEvery: number;
  readonly zeroHoldNm: Nm;
  readonly pressesPerLifter: number;
  readonly budget: BudgetSettings;
  readonly gauges: readonly JobGauge[];
  readonly lifters: Readonly<Record<string, LifterNote>>;
}
