import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { type GaugePort, type GaugePortHandlers, PortError } from "../host/gaugePort.ts";
import { Bench } from "./bench.ts";
import { applyBlunders } from "./blunders.ts";
import { LiveBench } from "./liveBench.ts";
import { rhythmFor } from "./person.ts";
import { type Truth, truthOf } from "./truth.ts";

export interface SimulatedBenchOptions {
  readonly job: Job;
  readonly seed: number;
  readonly readingsPerSecond?: number;
  /** Simulated ms for each ms of the clock, for tests. Default 1. */
  readonly rate?: number;
  readonly blunders?: readonly string[];
}

/** Gauges that are not there, in this process, and the person who works with them by ear. */
export interface SimulatedBench {
  /** By gauge id: makes the port for one opening. */
  readonly ports: ReadonlyMap<string, () => GaugePort>;
  /** Tells the person what the tool said; every outcome, in order. */
  hear(outcome: Outcome): void;
  /** Lets the person work; until then a streaming gauge only shows its place in the air. Off to begin with. */
  run(on: boolean): void;
  /** Pulls a gauge's cable, as a hand would; openings fail until it is put back. */
  pull(gauge: string): void;
  putBack(gauge: string): void;
  readonly truth: Truth;
  /** Ends it all; open ports are lost. */
  close(): void;
}

/**
 * A bench for trying the tool without gauges.
 * @throws BlunderError for a blunder that is unknown or cannot happen in this job.
 * @throws RangeError for a rate no gauge or clock has.
 */
export function createSimulatedBench(options: SimulatedBenchOptions): SimulatedBench {
  const { job, seed, readingsPerSecond, rate, blunders = [] } = options;
  const bench = new Bench(job, { seed, ...(readingsPerSecond === undefined ? {} : { readingsPerSecond }) });
  applyBlunders(bench, blunders);
  const truth = truthOf(bench, blunders);
  const cables = new Map(job.gauges.map(({ id }) => [id, new Cable(id, (text) => live.ask(id, text))]));
  const rocking = rhythmFor(bench.readingsPerSecond);
  const live = new LiveBench(bench, {
    ...(rate === undefined ? {} : { rate }),
    // Brisker than most, so that one who tries the tool need not wait long for the first station.
    rocking: { ...rocking, lowHz: Math.max(rocking.lowHz, 0.8 * rocking.highHz) },
    lifterMs: 1_000,
    onLine: (gauge, text) => cables.get(gauge)?.send(text),
  });
  return {
    ports: new Map([...cables].map(([id, cable]) => [id, () => cable.newPort()])),
    hear: (outcome) => live.hear(outcome),
    run: (on) => live.run(on),
    pull: (gauge) => cables.get(gauge)?.pull(),
    putBack: (gauge) => cables.get(gauge)?.putBack(),
    truth,
    close() {
      live.close();
      for (const cable of cables.values()) cable.pull();
    },
  };
}

/** The cable of one simulated gauge: one port at a time holds its other end. */
class Cable {
  readonly path: string;
  readonly #onWrite: (text: string) => void;
  #plugged = true;
  #port: SimulatedPort | null = null;

  constructor(gauge: string, onWrite: (text: string) => void) {
    this.path = `simulated:${gauge}`;
    this.#onWrite = onWrite;
  }

  newPort(): GaugePort {
    return new SimulatedPort(this);
  }

  /** @throws PortError when the cable is out or another port holds it. */
  take(port: SimulatedPort): void {
    if (!this.#plugged) {
      throw new PortError("absent", this.path, `Simulated gauge ${this.path} is unplugged; put its cable back.`);
    }
    if (this.#port !== null) {
      throw new PortError("busy", this.path, `Simulated gauge ${this.path} is in use; close the other port first.`);
    }
    this.#port = port;
  }

  release(port: SimulatedPort): void {
    if (this.#port === port) this.#port = null;
  }

  write(text: string): void {
    this.#onWrite(text);
  }

  /** Lost while nobody listens, as on a real cable. */
  send(text: string): void {
    this.#port?.receive(new TextEncoder().encode(text));
  }

  pull(): void {
    this.#plugged = false;
    this.#port?.lose(`the cable of simulated gauge ${this.path} was pulled`);
  }

  putBack(): void {
    this.#plugged = true;
  }
}

/** One opening of a simulated gauge; see `GaugePort` for what is guaranteed. */
class SimulatedPort implements GaugePort {
  readonly #cable: Cable;
  #state: "new" | "opening" | "open" | "done" = "new";
  #handlers: GaugePortHandlers | null = null;

  constructor(cable: Cable) {
    this.#cable = cable;
  }

  async open(handlers: GaugePortHandlers): Promise<void> {
    const { path } = this.#cable;
    if (this.#state !== "new") throw new PortError("failed", path, `Port ${path} was opened before: make a new one.`);
    this.#state = "done";
    this.#cable.take(this);
    this.#state = "opening";
    this.#handlers = handlers;
    // Bytes only once whoever waits for the opening has gone on.
    setTimeout(() => {
      if (this.#state === "opening") this.#state = "open";
    }, 0);
  }

  async write(text: string): Promise<void> {
    if (this.#handlers === null) {
      throw new PortError("absent", this.#cable.path, `Port ${this.#cable.path} is not open; nothing was sent.`);
    }
    this.#cable.write(text);
  }

  async close(): Promise<void> {
    this.#end({ wanted: true, why: null });
  }

  receive(bytes: Uint8Array): void {
    if (this.#state === "open") this.#handlers?.onBytes(bytes);
  }

  lose(why: string): void {
    this.#end({ wanted: false, why });
  }

  #end(closed: { readonly wanted: boolean; readonly why: string | null }): void {
    const handlers = this.#handlers;
    if (handlers === null) return;
    this.#handlers = null;
    this.#state = "done";
    this.#cable.release(this);
    handlers.onClose(closed);
  }
}
