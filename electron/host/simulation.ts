import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { GaugePort } from "./gaugePort.ts";

/** A bench that is not there, as the host sees it: ports like any other, and a person who hears what is announced. */
export interface Simulation {
  /** By gauge id: makes a port for one opening. */
  readonly ports: ReadonlyMap<string, () => GaugePort>;
  /** The simulated person hears a tone or reads the screen. */
  hear(outcome: Outcome): void;
  /** Lets the person work or rest. */
  run(on: boolean): void;
  close(): void;
}

export type MakeSimulation = (input: { readonly job: Job; readonly seed: number }) => Simulation;
