import type { OpenSession } from "../../core/bridge/messages.ts";
import type { Job } from "../../core/session/job.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { useStore } from "./store.ts";

const parsed = new WeakMap<object, Job | null>();

/** The open session's job with every default filled in and lengths in nanometres; null when no session is open. */
export function useJob(): Job | null {
  return useStore((state) => (state.session === null ? null : jobOf(state.session)));
}

/** The job of a session, the same object every time; null if its header holds none that makes sense. */
export function jobOf(session: OpenSession): Job | null {
  const known = parsed.get(session.job);
  if (known !== undefined) return known;
  let job: Job | null;
  try {
    job = parseJob(session.job);
  } catch {
    // The host refuses such a session with the reason before it is ever shown; there is nothing to draw.
    job = null;
  }
  parsed.set(session.job, job);
  return job;
}
