import type { StepName } from "../../core/session/event.ts";
import { parseFeedLine } from "../../core/session/feed.ts";
import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { Bench, type BenchOptions } from "../../electron/simulator/bench.ts";
import { applyBlunders } from "../../electron/simulator/blunders.ts";
import { Person } from "../../electron/simulator/person.ts";
import { type Truth, truthOf } from "../../electron/simulator/truth.ts";

/** What a walk of the simulated person with the real session reducer came to. */
export interface Walked {
  readonly run: SessionRun;
  readonly outcomes: readonly Outcome[];
  readonly truth: Truth;
  readonly tMs: number;
}

/** The steps an operator chooses by hand; what the guide may do by itself follows by itself. */
const CHOSEN: readonly (StepName | null)[] = ["lifters", "zero", "step-check", "bores"];

/**
 * Lets the person work by ear beside the session reducer until it says that the walk is complete or `withinMs` of
 * simulated time are over. The operator chooses the step that the guide names as soon as it names one.
 */
export function walkByEar(
  job: Job,
  options: BenchOptions & { readonly blunders?: readonly string[]; readonly withinMs?: number },
): Walked {
  const bench = new Bench(job, options);
  applyBlunders(bench, options.blunders ?? []);
  const truth = truthOf(bench, options.blunders ?? []);
  const person = new Person(bench);
  person.run(true);
  const run = new SessionRun(job);
  const outcomes: Outcome[] = [];
  const tell = (heard: readonly Outcome[]) => {
    for (const outcome of heard) {
      outcomes.push(outcome);
      person.hear(outcome);
    }
  };
  const moveOn = (t: number) => {
    const next = run.guideNext();
    if (next === null || (!next.auto && !CHOSEN.includes(next.step))) return;
    tell(
      run.apply({
        type: "step",
        t,
        step: next.step,
        ...(next.step === "zero" ? { lifter: bench.referenceLifter } : {}),
      }),
    );
  };
  let tMs = 0;
  for (
    ;
    tMs < (options.withinMs ?? 1_200_000) && !run.complete;
    tMs = Math.max(tMs + 1, Math.min(tMs + 200, person.nextMs()))
  ) {
    for (const happening of person.actionsUntil(tMs)) {
      if (happening.type !== "line") throw new Error("by ear the person chooses no step");
      silence(run, happening.tMs, tell);
      tell(
        run.apply({ type: "line", t: Math.max(run.tMs, happening.tMs), gauge: happening.gauge, line: happening.line }),
      );
      moveOn(run.tMs);
    }
    silence(run, tMs, tell);
    moveOn(Math.max(run.tMs, tMs));
  }
  return { run, outcomes, truth, tMs };
}

function silence(run: SessionRun, tMs: number, tell: (heard: readonly Outcome[]) => void): void {
  for (let count = 0; count < 16; count += 1) {
    const due = run.silenceDueMs();
    if (due === null || due > tMs) return;
    tell(run.apply({ type: "silence", t: Math.max(run.tMs, due) }));
  }
}

/** Lets the session reducer read a feed, silences included. */
export function walkFeedLines(
  job: Job,
  lines: readonly string[],
): { readonly run: SessionRun; readonly outcomes: Outcome[] } {
  const run = new SessionRun(job);
  const outcomes: Outcome[] = [];
  const tell = (heard: readonly Outcome[]) => outcomes.push(...heard);
  lines.forEach((line, index) => {
    const event = parseFeedLine(line, index + 1, run.tMs, job);
    if (event === null) return;
    silence(run, event.t, tell);
    tell(run.apply(event));
  });
  silence(run, Number.MAX_SAFE_INTEGER, tell);
  return { run, outcomes };
}
