import type { LiveReading } from "../../core/bridge/messages.ts";
import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { type ReadSession, Recording } from "../../core/session/recording.ts";
import type { SessionView } from "../../core/session/view.ts";

/** Something that changed what the screens show. */
export interface Moment {
  readonly tMs: number;
  readonly outcomes: readonly Outcome[];
  /** The session after it. */
  readonly view: SessionView;
}

/** A recorded session with everything that a screen showed, in order of time, ready to be looked at from any place. */
export interface Film {
  readonly job: Job;
  /** The job as it stands in the header. */
  readonly jobFile: Record<string, unknown>;
  readonly created: string;
  readonly simulated: boolean;
  readonly moments: readonly Moment[];
  readonly readings: readonly LiveReading[];
  /** Time of the last event. */
  readonly endMs: number;
}

/**
 * Reads a session file's text by the code that reads every session, and keeps what each moment showed. A step at a time:
 * each yields the share read so far, 0 … 1.
 * @throws SessionError when it is no session.
 */
export function* filmOf(text: string): Generator<number, Film, void> {
  const moments: Moment[] = [];
  const readings: LiveReading[] = [];
  const steps = Recording.readByLine(text);
  const lines = Math.max(1, text.length / 150);
  let read: ReadSession;
  let count = 0;
  for (;;) {
    const next = steps.next();
    if (next.done === true) {
      read = next.value;
      break;
    }
    count += 1;
    if (count % 64 === 0) yield Math.min(0.99, count / lines);
    if (next.value === null) continue;
    const { input, outcomes, recording } = next.value;
    if (input.type === "line") {
      const gauge = recording.run.gaugeView(input.gauge);
      const valueNm = gauge === null || gauge.whyNot !== null ? null : gauge.lastNm;
      readings.push({ gauge: input.gauge, tMs: input.t, valueNm, line: input.line });
      if (outcomes.length === 0) continue;
    }
    moments.push({ tMs: input.t, outcomes, view: recording.view() });
  }
  const { recording, header } = read;
  // Readings after the last outcome belong to what is shown at the end.
  if (moments.length > 0) moments.push({ tMs: recording.tMs, outcomes: [], view: recording.view() });
  return {
    job: recording.job,
    jobFile: header.job as unknown as Record<string, unknown>,
    created: header.created,
    simulated: recording.simulated,
    moments,
    readings,
    endMs: recording.tMs,
  };
}
