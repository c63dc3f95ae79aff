import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { Recording } from "../../core/session/recording.ts";
import type { SessionClock } from "../host/sessionClock.ts";
import type { SessionFile } from "../host/sessionFile.ts";

/** What a walk works on, wherever its readings come from. */
export interface Work {
  readonly job: Job;
  readonly recording: Recording;
  readonly file: SessionFile;
  readonly clock: SessionClock;
  /** Tells the user; called only after the record is on disk. */
  readonly announce: (outcome: Outcome) => void;
  /** Tells the user what to do now, at a time in ms since the start. */
  readonly guide: (sentence: string, tMs: number) => void;
}
