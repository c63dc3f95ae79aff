import type { StepName } from "../../core/session/event.ts";
import { type Job, lifterNames } from "../../core/session/job.ts";
import type { Target, Tone } from "./ear.ts";

/** What the person has just done, as far as a listening tool could notice it. */
export type Did =
  | { readonly did: "lifter"; readonly name: string }
  /** A pass through square; `valueNm` is what a button sent of it, polarity as the job says, null with a stream. */
  | { readonly did: "pass"; readonly good: boolean; readonly valueNm: number | null }
  /** Held still for long enough, or taken out. */
  | { readonly did: "rest" }
  /** Knocked the gauge: the next return check will show it, and the bores since the last one are due again. */
  | { readonly did: "knock" };

export interface Plan {
  /** Good passes at a station of a stream; more than the job's `sweepsPerStation`, so that none is missing. */
  readonly passesPerStation: number;
  /** Good passes of a stream in the micrometer. */
  readonly passesPerReference: number;
  readonly stepCheck: boolean;
}

/**
 * Stands in for the tool when nobody listens: it says what a tool would say by a fixed plan, so that the person who
 * works by ear also works open loop. It counts passes and knows no measurement, except that with a data button the
 * next station opens as soon as the last presses agree, which the plan must follow to stay in step.
 */
export class PlannedTool {
  readonly #job: Job;
  readonly #plan: Plan;
  readonly #walk: readonly Target[];
  readonly #streams: boolean;
  #phase: StepName = "lifters";
  #presses = new Map<string, number>();
  #passes = 0;
  #closed = false;
  #values: number[] = [];
  #index = 0;
  #boresSinceCheck = 0;
  #knocked = false;
  /** Index of the first station since the last reference that holds. */
  #checkedIndex = 0;

  constructor(job: Job, walk: readonly Target[], streams: boolean, plan: Plan) {
    this.#job = job;
    this.#plan = plan;
    this.#walk = walk;
    this.#streams = streams;
  }

  start(): Tone[] {
    const hasMicrometer = this.#job.gauges.some((gauge) => gauge.role === "micrometer");
    return this.#begin(hasMicrometer ? "lifters" : "zero");
  }

  after(did: Did): Tone[] {
    switch (did.did) {
      case "lifter":
        return this.#afterLifter(did.name);
      case "pass":
        return did.good || did.valueNm !== null ? this.#afterPass(did.valueNm) : [];
      case "rest":
        return this.#afterRest();
      case "knock":
        this.#knocked = true;
        return [];
    }
  }

  #begin(phase: StepName): Tone[] {
    this.#phase = phase;
    this.#passes = 0;
    this.#closed = false;
    this.#values = [];
    return [{ type: "step", step: phase }, ...(phase === "bores" ? this.#open() : [])];
  }

  #open(): Tone[] {
    this.#passes = 0;
    this.#closed = false;
    this.#values = [];
    const target = this.#walk[this.#index];
    return target === undefined ? [] : [{ type: "opened", ...target }];
  }

  #afterLifter(name: string): Tone[] {
    const readings = (this.#presses.get(name) ?? 0) + 1;
    this.#presses.set(name, readings);
    const tones: Tone[] = [{ type: "lifter", name, readings }];
    const allDone = lifterNames(this.#job).every(
      (name) => (this.#presses.get(name) ?? 0) >= this.#job.pressesPerLifter,
    );
    return allDone ? [...tones, ...this.#begin("zero")] : tones;
  }

  #afterPass(valueNm: number | null): Tone[] {
    if (this.#closed) return [];
    this.#passes += 1;
    if (valueNm !== null) this.#values.push(valueNm);
    if (this.#phase === "zero" || this.#phase === "return") {
      this.#closed = this.#streams ? this.#passes >= this.#plan.passesPerReference : this.#agree();
      return this.#closed ? [{ type: "zero" }] : [];
    }
    if (this.#phase === "step-check") {
      this.#closed = this.#passes >= this.#job.sweepsPerStation;
      return this.#closed ? [{ type: "step-check", passed: true }] : [];
    }
    if (this.#phase !== "bores") return [];
    this.#closed = this.#streams ? this.#passes >= this.#plan.passesPerStation : this.#agree();
    const target = this.#walk[this.#index];
    if (!this.#closed || target === undefined) return [];
    const tones: Tone[] = [{ type: "station", ...target }];
    return this.#streams ? tones : [...tones, ...this.#next()];
  }

  #agree(): boolean {
    const last = this.#values.slice(-this.#job.sweepsPerStation);
    if (last.length < this.#job.sweepsPerStation) return false;
    return Math.max(...last) - Math.min(...last) <= this.#job.agreementNm;
  }

  #afterRest(): Tone[] {
    if (!this.#closed) return [];
    switch (this.#phase) {
      case "zero":
        return this.#begin(this.#plan.stepCheck ? "step-check" : "bores");
      case "step-check":
        return this.#begin("bores");
      case "return":
        if (this.#knocked) this.#index = this.#checkedIndex;
        this.#knocked = false;
        this.#checkedIndex = this.#index;
        return this.#index >= this.#walk.length ? [{ type: "complete" }] : this.#begin("bores");
      case "bores":
        return this.#streams ? this.#next() : [];
      case "lifters":
        return [];
    }
  }

  #next(): Tone[] {
    const before = this.#walk[this.#index]?.bore;
    this.#index += 1;
    const target = this.#walk[this.#index];
    if (target?.bore !== before) this.#boresSinceCheck += 1;
    const every = this.#job.returnCheckEvery;
    if (every > 0 && (target === undefined || this.#boresSinceCheck >= every)) {
      this.#boresSinceCheck = 0;
      return this.#begin("return");
    }
    return target === undefined ? [{ type: "complete" }] : this.#open();
  }
}
