import type { Job } from "../../core/session/job.ts";
import { parseJob } from "../../core/session/jobFile.ts";

/** A job on an inline four; what is not stated takes the job file's defaults. */
export function fourJob(bore: Record<string, unknown>, given: Record<string, unknown> = {}): Job {
  return parseJob({
    format: "borewright/job",
    version: 1,
    layout: "i4",
    returnCheckEvery: 4,
    gauges: [
      { id: "bore", role: "bore", ...bore },
      { id: "mic", role: "micrometer" },
    ],
    ...given,
  });
}

/** The first bores of it only, where a blunder needs no more. */
export function shortJob(bore: Record<string, unknown>, given: Record<string, unknown> = {}): Job {
  return fourJob(bore, { walk: ["1E", "1I", "2I", "2E"], ...given });
}

/** Two bores of one station each, enough for what goes wrong at a single station of a stream. */
export function stationJob(bore: Record<string, unknown>): Job {
  return fourJob(bore, { walk: ["1E", "1I"], stations: [{ height: "upper", clock: "axial" }] });
}
