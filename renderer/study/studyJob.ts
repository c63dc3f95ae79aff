import { type StudyPlan, studyStations } from "../../core/report/studySession.ts";
import { jobFileWithDefaults } from "../../core/session/jobFile.ts";

/** What a study's job takes over from the job it is made from; the rest is the study's own or the default. */
const KEPT = [
  "block",
  "layout",
  "lifter",
  "limits",
  "materials",
  "rule",
  "sweepsPerStation",
  "agreement",
  "returnCheckEvery",
  "zeroHold",
  "budget",
] as const;

/**
 * The job of a gauge study on the bore gauge of another job: one zero, and at each of `bores` a station for every trial
 * of every person. No lifter is measured: readings are compared with each other, never with a lifter.
 */
export function studyJob(
  from: Readonly<Record<string, unknown>>,
  bores: readonly string[],
  plan: StudyPlan,
): Record<string, unknown> {
  const kept = Object.fromEntries(KEPT.flatMap((key) => (from[key] === undefined ? [] : [[key, from[key]]])));
  const all = Array.isArray(from.gauges)
    ? from.gauges
    : jobFileWithDefaults({ format: "borewright/job", version: 1 }).gauges;
  const gauges = (all as readonly { readonly role?: unknown }[] | undefined)?.filter(({ role }) => role === "bore");
  return {
    format: "borewright/job",
    version: 1,
    ...kept,
    title: "Gauge study",
    operator: plan.people.join(", "),
    walk: [...bores],
    stations: studyStations(plan),
    gauges,
  };
}

/** Names typed with commas or line ends between them. */
export function namesOf(text: string): string[] {
  return text
    .split(/[,;\n]/)
    .map((name) => name.trim())
    .filter((name) => name !== "");
}
