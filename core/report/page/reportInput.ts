import type { Temperatures } from "../../fit/finding.ts";
import type { Ms } from "../../gauge/ms.ts";
import type { Job, JobGauge } from "../../session/job.ts";
import type { Comparison } from "../comparisonSchema.ts";
import type { Pairing } from "../pairingSchema.ts";
import type { Remedy } from "../remedySchema.ts";
import type { Result } from "../result.ts";
import type { UnitFirst } from "./lengths.ts";
import type { DateChoice } from "./times.ts";

/** Something the record says in words, with its time since the start. */
export interface RecordedRemark {
  readonly t: Ms;
  readonly text: string;
}

/** Who and what the record does not know; what is left out is printed as a line to fill in by hand. */
export interface ReportNames {
  /** The shop that measured. */
  readonly shop?: string;
  readonly address?: string;
  readonly customer?: string;
  /** Who measured; taken from the job when left out. */
  readonly operator?: string;
  /** The shop's own number; the record's seal identifies the report in any case. */
  readonly number?: string;
}

/** How the report is to look. */
export interface ReportChoices extends DateChoice {
  /** Which unit stands first; that of the bore gauge when left out. */
  readonly unitFirst?: UnitFirst;
  /** From which end the plan is seen; from the rear (front at the top) when left out. */
  readonly seenFrom?: "front" | "rear";
  /** Date of issue, ISO 8601; a line to fill in when left out. */
  readonly issued?: string;
}

/** Everything that the report is printed from: plain data, so that it can be made wherever the record is read. */
export interface ReportInput {
  readonly result: Result;
  readonly job: Job;
  /** What the record knows of itself. */
  readonly record: {
    /** ISO 8601. */
    readonly created: string;
    /** Program and version that made the record. */
    readonly app: string;
    /** Seal of its last record, 64 hex digits. */
    readonly seal: string;
    readonly records: number;
    /** Time of its last event since the start. */
    readonly lastMs: Ms;
    /** Places where the chain of seals does not hold. */
    readonly broken: readonly { readonly line: number; readonly why: string }[];
  };
  /** As told during the work, oldest first; empty when none was measured. */
  readonly temperatures: readonly Temperatures[];
  /** The gauges as they were read at the end: what was corrected is in them. */
  readonly gauges: readonly JobGauge[];
  /** Gain of the bore gauge in use; 1 unless a gain check said otherwise. */
  readonly gain: number;
  /** Where a bore stands against the wear limit of a used block, a sentence by bore; empty without such a limit. */
  readonly wear: Readonly<Record<string, string>>;
  /** Corrections of a gauge that were accepted during the work, in words. */
  readonly corrections: readonly RecordedRemark[];
  /** What the operator wrote down. */
  readonly notes: readonly RecordedRemark[];
  /** When the session was opened again to go on with it. */
  readonly resumed: readonly Ms[];
  /** True for a study of the gauge, whose verdicts speak of no block. */
  readonly study: boolean;
  readonly pairing?: Pairing;
  readonly remedy?: Remedy;
  readonly comparison?: Comparison;
  readonly names?: ReportNames;
  readonly choices?: ReportChoices;
}

export type ResultBore = Result["bores"][number];
export type ResultStation = ResultBore["stations"][number];

/** The unit that stands first: as chosen, otherwise that of the bore gauge. */
export function unitFirstOf({ choices, job }: ReportInput): UnitFirst {
  const bore = job.gauges.find((gauge) => gauge.role === "bore");
  return choices?.unitFirst ?? (bore?.unit === "mm" ? "um" : "in");
}
