import type { Job } from "../../core/session/job.ts";
import type { Plan } from "./plannedTool.ts";

/** A plan with more passes than a tool should need: two more a station, seven where one of them is to be an outlier. */
export function openLoopPlan(job: Job, blunders: readonly string[], stepCheck: boolean): Plan {
  return {
    passesPerStation: job.sweepsPerStation + (blunders.includes("outlier") ? 4 : 2),
    passesPerReference: Math.max(5, job.sweepsPerStation + 2),
    stepCheck,
  };
}
