import type { Ms } from "../../core/gauge/ms.ts";
import type { Job } from "../../core/session/job.ts";
import { Bench, type BenchOptions } from "./bench.ts";
import { applyBlunders } from "./blunders.ts";
import { openLoopPlan } from "./openLoopPlan.ts";
import { type Happening, Person } from "./person.ts";
import type { RockingHabit } from "./rocking.ts";
import { type Truth, truthOf } from "./truth.ts";

export interface FeedOptions extends BenchOptions {
  readonly blunders?: readonly string[];
  /** Passes at a station of a stream. Default: those of `openLoopPlan`. */
  readonly passesPerStation?: number;
  /** Default true: the step check is made after the first zero. */
  readonly stepCheck?: boolean;
  /** Default true: the temperatures of block and lifter are told with the zero. */
  readonly temperatures?: boolean;
  readonly rocking?: RockingHabit;
}

/** A day is more than any walk takes: whoever needs longer has lost their way. */
const LONGEST_MS: Ms = 24 * 3_600_000;

/**
 * What a bench saw, without a bench: the lines of a feed file (JSON, oldest first, without line ends) and the truth
 * beside it. The person works open loop by a plan with more passes than a tool should need.
 * @throws BlunderError for a blunder that is unknown or cannot happen in this job.
 * @throws RangeError for a rate that no gauge has.
 */
export function simulateFeed(job: Job, options: FeedOptions): { readonly lines: string[]; readonly truth: Truth } {
  const { blunders = [], stepCheck = true, temperatures = true } = options;
  const bench = new Bench(job, options);
  applyBlunders(bench, blunders);
  const truth = truthOf(bench, blunders);
  const plan = openLoopPlan(job, blunders, stepCheck);
  const person = new Person(bench, {
    plan: { ...plan, passesPerStation: options.passesPerStation ?? plan.passesPerStation },
    ...(options.rocking === undefined ? {} : { rocking: options.rocking }),
  });
  const lines: string[] = [];
  for (let tMs = 0; !person.done; tMs += 1_000) {
    if (tMs > LONGEST_MS)
      throw new Error("the simulated walk did not end within a day; this is a fault of the simulator");
    for (const happening of person.actionsUntil(tMs))
      lines.push(JSON.stringify(record(happening, bench, temperatures)));
  }
  return { lines, truth };
}

/** A happening as the feed writes it. */
function record(happening: Happening, bench: Bench, temperatures: boolean): Record<string, unknown> {
  const { tMs: t } = happening;
  if (happening.type === "line") return { t, gauge: happening.gauge, line: happening.line };
  if (happening.type === "take") return { t, step: "take" };
  if (happening.type === "pedal") return { t, step: happening.control };
  const { step } = happening;
  if (step === "zero") {
    const tenths = (celsius: number) => Math.round(celsius * 10) / 10;
    const told = { blockC: tenths(bench.blockC(t)), lifterC: tenths(bench.temperatures.lifterC) };
    return { t, step, lifter: bench.referenceLifter, ...(temperatures ? told : {}) };
  }
  if (step === "step-check") return { t, step, opened: bench.boreGauge.unit === "in" ? "0.0010 in" : "0.02 mm" };
  return { t, step };
}
