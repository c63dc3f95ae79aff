import { findBores } from "../fit/findBores.ts";
import type { Limits, Rule } from "../fit/finding.ts";
import type { Recording } from "../session/recording.ts";
import { type Result, resultOf } from "./result.ts";

/**
 * The result of a recording under other limits or another rule, the record itself untouched. A part left out stays
 * the job's.
 */
export function resultUnder(
  recording: Recording,
  seal: Result["seal"],
  other: { readonly limits?: Limits; readonly rule?: Rule; readonly differences?: readonly string[] },
): Result {
  const limits = other.limits ?? recording.job.limits;
  const rule = other.rule ?? recording.job.rule;
  const findings = findBores({ ...recording.run.fitInput(), limits, rule });
  return resultOf(recording, seal, { findings, limits: { ...limits }, rule, differences: other.differences ?? [] });
}
