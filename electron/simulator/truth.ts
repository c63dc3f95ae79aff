import { lifterNames } from "../../core/session/job.ts";
import type { Bench } from "./bench.ts";

/** What the simulated bench truly is, to hold findings against; format `borewright/truth`. Lengths at 20 °C. */
export interface Truth {
  readonly format: "borewright/truth";
  readonly version: 1;
  readonly seed: number;
  readonly blunders: readonly string[];
  /** The lifter that the micrometer is set to for every zero. */
  readonly referenceLifter: string;
  readonly blockC: number;
  readonly lifterC: number;
  readonly lifters: readonly { readonly name: string; readonly diameterNm: number }[];
  readonly bores: readonly {
    readonly name: string;
    readonly stations: readonly {
      readonly height: string;
      readonly clock: "axial" | "cross";
      readonly diameterNm: number;
      /** Bore minus the lifter meant for it. */
      readonly clearanceNm: number;
      /** Bore minus the reference lifter. */
      readonly clearanceToReferenceNm: number;
    }[];
  }[];
}

/** The truth of a bench; taken before the work begins, when nothing has been knocked yet. */
export function truthOf(bench: Bench, blunders: readonly string[]): Truth {
  const { job, referenceLifter } = bench;
  return {
    format: "borewright/truth",
    version: 1,
    seed: bench.seed,
    blunders: [...blunders],
    referenceLifter,
    blockC: bench.temperatures.blockC,
    lifterC: bench.temperatures.lifterC,
    lifters: lifterNames(job).map((name) => ({ name, diameterNm: bench.lifterNm(name) })),
    bores: job.walk.map((name) => ({
      name,
      stations: job.stations.map((place) => {
        const diameterNm = bench.diameterNm(name, place);
        return {
          height: place.height,
          clock: place.clock,
          diameterNm,
          clearanceNm: diameterNm - bench.lifterNm(name),
          clearanceToReferenceNm: diameterNm - bench.lifterNm(referenceLifter),
        };
      }),
    })),
  };
}
