import type { SessionInput } from "../session/event.ts";
import type { BrokenSeal, Recording } from "../session/recording.ts";
import type { RecordedRemark, ReportInput } from "./reportPage.ts";
import { reportPage } from "./reportPage.ts";
import { type Result, resultOf } from "./result.ts";
import { studyPlanOf } from "./studySession.ts";

/** A record as it was read; `Recording.read` gives all of it but the result. */
export interface ReadRecord {
  readonly recording: Recording;
  /** Its events, for what the operator corrected and wrote down; empty leaves that out. */
  readonly inputs?: readonly SessionInput[];
  readonly broken?: readonly BrokenSeal[];
  readonly differences?: readonly string[];
}

/** What goes into the report beside the record. */
export interface ReportExtras extends Pick<ReportInput, "pairing" | "remedy" | "comparison" | "names" | "choices"> {
  /** Under other limits or another rule, from `resultUnder`; otherwise the record's own result. */
  readonly result?: Result;
}

/** The report (HTML) of a record. @throws RangeError for a locale or time zone that there is not. */
export function reportOf(read: ReadRecord, extras: ReportExtras = {}): string {
  return reportPage(reportInputOf(read, extras));
}

/** Everything that the report of a record is printed from, as plain data. */
export function reportInputOf(read: ReadRecord, { result, ...extras }: ReportExtras = {}): ReportInput {
  const { recording, inputs = [], broken = [], differences = [] } = read;
  const { run, job } = recording;
  const { created, app } = JSON.parse(recording.headerText) as { readonly created: string; readonly app: string };
  const { temperatures, gain } = run.fitInput();
  return {
    result: result ?? resultOf(recording, broken.length === 0 ? "intact" : "broken", { differences }),
    job,
    record: {
      created: String(created),
      app: String(app),
      seal: recording.seal,
      records: recording.n,
      lastMs: recording.tMs,
      broken,
    },
    temperatures,
    gauges: run.gaugesAsRead,
    gain,
    // Under other limits than the job's the sentences would not hold.
    wear:
      result === undefined
        ? Object.fromEntries(run.findings().flatMap(({ name, wear }) => (wear === null ? [] : [[name, wear]])))
        : {},
    corrections: inputs.flatMap((input) => (input.type === "correct" ? [correctionOf(input)] : [])),
    notes: inputs.flatMap((input) => (input.type === "note" ? [{ t: input.t, text: input.text }] : [])),
    resumed: inputs.flatMap((input) => (input.type === "resumed" ? [input.t] : [])),
    study: studyPlanOf(job) !== null,
    ...extras,
  };
}

function correctionOf(input: Extract<SessionInput, { type: "correct" }>): RecordedRemark {
  const parts = [
    input.polarity === undefined ? null : `counts ${input.polarity === "+" ? "up" : "down"} as the size grows`,
    input.unit === undefined ? null : `read in ${input.unit}`,
    input.gain === undefined ? null : `gain ${input.gain.toFixed(4)}`,
  ].filter((part) => part !== null);
  return { t: input.t, text: `gauge ${input.gauge}: ${parts.join(", ")}.` };
}
