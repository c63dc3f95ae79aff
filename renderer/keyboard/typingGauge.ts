import type { Job, JobGauge } from "../../core/session/job.ts";
import { type Place, takesTyping } from "../store/place.ts";

/** The gauge that is worked with at this place: the micrometer with the lifters, the bore gauge elsewhere; null for none. */
export function gaugeOfPlace(job: Job | null, place: Place): JobGauge | null {
  if (job === null || !takesTyping(place)) return null;
  const role = place === "Lifters" ? "micrometer" : "bore";
  return job.gauges.find((gauge) => gauge.role === role) ?? null;
}

/**
 * The gauge whose lines a keyboard-type cable types at this place: the chosen one if the job has it, else the one worked
 * with there. Null where nothing typed is a gauge's.
 */
export function typingGauge(job: Job | null, place: Place, chosen: string | null): string | null {
  if (job === null || !takesTyping(place)) return null;
  if (chosen !== null && job.gauges.some((gauge) => gauge.id === chosen)) return chosen;
  return gaugeOfPlace(job, place)?.id ?? null;
}
