import type { Outcome } from "../../core/session/outcome.ts";
import type { Bench } from "./bench.ts";
import type { Tone } from "./ear.ts";
import { type Pedal, Person, type PersonOptions } from "./person.ts";

export interface LiveBenchOptions extends PersonOptions {
  /** Simulated ms for each ms of the clock; at most 1000. Default 1. */
  readonly rate?: number;
  /** A line of a gauge, with its end. */
  readonly onLine: (gauge: string, text: string) => void;
  /** A pedal of the foot switch. */
  readonly onPedal?: (control: Pedal) => void;
  /** The person has worked off the plan, or heard that the walk is complete; comes once. */
  readonly onDone?: () => void;
}

/** Longest time without looking at the clock, ms, so that a tone is answered soon. */
const LONGEST_WAIT_MS = 50;

/** Lets the simulated person work by the clock of this computer. The only place of the simulator that has one. */
export class LiveBench {
  readonly #bench: Bench;
  readonly #person: Person;
  readonly #options: LiveBenchOptions;
  readonly #rate: number;
  readonly #startMs = performance.now();
  #timer: NodeJS.Timeout | null = null;
  #done = false;
  #closed = false;

  constructor(bench: Bench, options: LiveBenchOptions) {
    const { rate = 1 } = options;
    if (!(rate > 0 && rate <= 1000)) throw new RangeError(`clock rate ${rate}; expected above 0, at most 1000`);
    this.#bench = bench;
    this.#options = options;
    this.#rate = rate;
    this.#person = new Person(bench, options);
    this.#schedule();
  }

  hear(outcome: Outcome | Tone): void {
    this.#person.hear(outcome);
  }

  run(on: boolean): void {
    this.#person.run(on);
  }

  /** What was written to a gauge; it answers if it is one that speaks when asked and this is what it is asked by. */
  ask(gauge: string, text: string): void {
    const { job } = this.#bench;
    const request = job.gauges.find((entry) => entry.id === gauge)?.request;
    if (this.#closed || request === undefined || !text.includes(request)) return;
    const line = this.#person.answer(gauge, this.#nowMs());
    if (line !== null) this.#send(gauge, line);
  }

  /** Stops the clock; nothing is sent any more. */
  close(): void {
    this.#closed = true;
    if (this.#timer !== null) clearTimeout(this.#timer);
  }

  #nowMs(): number {
    return (performance.now() - this.#startMs) * this.#rate;
  }

  #schedule(): void {
    if (this.#closed) return;
    const wait = (this.#person.nextMs() - this.#nowMs()) / this.#rate;
    this.#timer = setTimeout(() => this.#pass(), Math.max(1, Math.min(LONGEST_WAIT_MS, wait)));
  }

  #pass(): void {
    for (const happening of this.#person.actionsUntil(this.#nowMs())) {
      if (happening.type === "line") this.#send(happening.gauge, happening.line);
      else if (happening.type === "pedal") this.#options.onPedal?.(happening.control);
    }
    if (this.#person.done && !this.#done) {
      this.#done = true;
      this.#options.onDone?.();
    }
    this.#schedule();
  }

  #send(gauge: string, line: string): void {
    const indicator = gauge === this.#bench.boreGauge.id ? this.#bench.bore : this.#bench.micrometer;
    this.#options.onLine(gauge, line + (indicator?.terminator ?? "\r"));
  }
}
