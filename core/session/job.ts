import type { Layout, StationPlace } from "../block/layout.ts";
import type { BudgetSettings, Limits, Material, Rule } from "../fit/finding.ts";
import type { GaugeProfile } from "../gauge/profile.ts";
import type { Nm } from "../length/nm.ts";

export type LifterStyle = "flat" | "roller";

/** What the pairing must respect for one lifter. */
export interface LifterNote {
  /** It has run in an engine: a used flat-faced lifter stays in its own bore. */
  readonly used?: boolean;
  /** The lifter on the other end of its tie bar; both name each other. */
  readonly pairedWith?: string;
  /** The pair may go in turned round, intake lifter in the exhaust bore; either of the two may say so. */
  readonly mayTurn?: boolean;
  /** It must go to its own bore (true) or to the bore named. */
  readonly pinned?: boolean | string;
  /** Bores it must not go to. */
  readonly keptFrom?: readonly string[];
  /** It was measured for no bore: one lifter more than there are bores. Its name is its own. */
  readonly spare?: boolean;
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
  /** `typed`: it has no data output; a person reads its dial or display and types. Absent where it sends. */
  readonly source?: "typed";
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
  readonly materials: { readonly block: Material; readonly lifter: Material };
  readonly rule: Rule;
  readonly sweepsPerStation: number;
  readonly agreementNm: Nm;
  /** A return check is asked for after this many bores; 0 = none asked for. */
  readonly returnCheckEvery: number;
  readonly zeroHoldNm: Nm;
  readonly pressesPerLifter: number;
  readonly budget: BudgetSettings;
  readonly gauges: readonly JobGauge[];
  /** By lifter, named after the bore it is measured for; spare ones, by their own names, in the order they are measured. */
  readonly lifters: Readonly<Record<string, LifterNote>>;
}

/** Lifters in the order they are measured: those of the walk, then the spare ones. */
export function lifterNames(job: Pick<Job, "walk" | "lifters">): string[] {
  const spares = Object.entries(job.lifters).flatMap(([name, { spare }]) => (spare === true ? [name] : []));
  return [...job.walk, ...spares];
}

/** Whether a lifter can be named so: after a bore of the layout, or as one of the job's spare ones. */
export function isLifter(job: Pick<Job, "layout" | "lifters">, name: string): boolean {
  return job.layout.bores.some((bore) => bore.name === name) || job.lifters[name]?.spare === true;
}
