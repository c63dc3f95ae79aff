import type { Job } from "../../core/session/job.ts";
import { type Place, takesTyping } from "../store/place.ts";

/**
 * The gauge whose lines a keyboard-type cable types at this place: the chosen one if the job has it, else the
 * micrometer with the lifters and the bore gauge elsewhere. Null where nothing typed is a gauge's.
 */
export function typingGauge(job: Job | null, place: Place, chosen: string | null): string | null {
  if (job === null || !takesTyping(place)) return null;
  if (chosen !== null && job.gauges.some((gauge) => gauge.id === chosen)) return chosen;
  const role = place === "Lifters" ? "micrometer" : "bore";
  return job.gauges.find((gauge) => gauge.role === role)?.id ?? null;
}
