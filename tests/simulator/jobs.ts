import type { Job } from "../../core/session/job.ts";
import { parseJob } from "../../core/session/jobFile.ts";

/** A job of so many bores for the simulator's tests; what is not stated takes the job file's defaults. */
export function benchJob(given: Record<string, unknown> = {}, bore: Record<string, unknown> = {}): Job {
  return parseJob({
    format: "borewright/job",
    version: 1,
    walk: ["1I", "1E", "2I", "2E", "3I", "3E"],
    returnCheckEvery: 4,
    gauges: [
      { id: "bore", role: "bore", ...bore },
      { id: "mic", role: "micrometer" },
    ],
    ...given,
  });
}
