import type { FitInput } from "../fit/finding.ts";
import type { Nm } from "../length/nm.ts";
import { type Job, lifterNames } from "./job.ts";
import type { LifterTable } from "./lifterTable.ts";

/** What a session has measured beside its stations. */
interface Measured extends Pick<FitInput, "references" | "gain" | "temperatures" | "fitted"> {
  readonly lifters: LifterTable;
}

/** All that a finding is computed from but the stations themselves: the job's plan and what was measured beside them. */
export function fitFrame(job: Job, measured: Measured): Omit<FitInput, "stations"> {
  const bore = job.gauges.find((gauge) => gauge.role === "bore");
  if (bore === undefined) throw new Error("a job has a bore gauge");
  const micrometer = job.gauges.find((gauge) => gauge.role === "micrometer");
  const lifters = new Map<string, Nm>();
  for (const name of lifterNames(job)) {
    const diameterNm = measured.lifters.diameterNm(name);
    if (diameterNm !== null) lifters.set(name, diameterNm);
  }
  return {
    bores: job.walk,
    places: job.stations,
    references: measured.references,
    lifters,
    ...(measured.fitted === undefined ? {} : { fitted: measured.fitted }),
    nominalLifterNm: job.lifter.nominalNm,
    limits: job.limits,
    rule: job.rule,
    sends: bore.sends,
    resolutionNm: bore.resolutionNm,
    micrometerResolutionNm: micrometer?.resolutionNm ?? bore.resolutionNm,
    gain: measured.gain,
    materials: job.materials,
    temperatures: measured.temperatures,
    budget: job.budget,
  };
}
