import type { OpenSession } from "../../core/bridge/messages.ts";
import type { Job } from "../../core/session/job.ts";
import { useStore } from "./store.ts";

/** The open session's job with every default filled in and lengths in nanometres; null when no session is open. */
export function useJob(): Job | null {
  return useStore((state) => (state.session === null ? null : jobOf(state.session)));
}

/** The job of a session as the reducer holds it. */
export function jobOf(session: OpenSession): Job | null {
  return session.job as unknown as Job;
}
