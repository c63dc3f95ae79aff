import type { StationPlace } from "../../core/block/layout.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Job } from "../../core/session/job.ts";
import type { SeenStation } from "../../core/session/watch/sight.ts";
import type { Random } from "../../electron/simulator/random.ts";
import { trueDiameter, wornBlock } from "../../electron/simulator/trueBlock.ts";
import { fourJob } from "./jobs.ts";

/** A block as the rules see it, without feed and reducer, so that thousands can be looked at. Lengths in nm. */
export interface SyntheticBlock {
  readonly bores: number;
  readonly stations: number;
  /** Standard deviation of what all stations of a bore share, and of each station beside that. */
  readonly shiftNm: number;
  readonly formNm: number;
  /** Standard deviation of a sweep. */
  readonly noiseNm: number;
  /** Index of a bore that is the one before it, measured again. */
  readonly again?: number;
  /** From the first bore to the last, steadily. */
  readonly trendNm?: number;
  /** Bores of the simulator's used block instead: they wander along the walk, two are oval, one is far out. */
  readonly worn?: boolean;
}

export const PLACES: readonly StationPlace[] = ["upper", "middle", "lower"].flatMap((height) => [
  { height, clock: "axial" as const },
  { height, clock: "cross" as const },
]);

export function syntheticJob({ bores, stations }: SyntheticBlock): Job {
  const walk = Array.from({ length: bores }, (_, index) => `${1 + (index >> 1)}${index % 2 ? "E" : "I"}`);
  return fourJob({ sends: "stream" }, { layout: "v8-alternate", walk, stations: PLACES.slice(0, stations) });
}

/** The closed stations of a walk round such a block, three sweeps each, ten seconds apart. */
export function syntheticStations(block: SyntheticBlock, job: Job, random: Random): readonly SeenStation[] {
  let before: readonly number[] = [];
  const worn = block.worn === true ? wornBlock(job, random) : null;
  const drawBore = (bore: string): readonly number[] => {
    if (worn !== null) return job.stations.map((place) => trueDiameter(worn, job, bore, place) - job.lifter.nominalNm);
    const shift = random.normal(block.shiftNm);
    return job.stations.map(() => shift + random.normal(block.formNm));
  };
  return job.walk.flatMap((bore, index) => {
    const drawn = drawBore(bore);
    const trueNm = index === block.again ? before : drawn;
    before = trueNm;
    const trend = ((block.trendNm ?? 0) * index) / (job.walk.length - 1);
    // Put in again: off centre a little, and by another hand's pressure.
    const again = random.normal(100) - random.between(0, 250);
    return job.stations.map((place, station) => {
      const around = 40_000 + (trueNm[station] as number) + trend + again;
      const sweeps = [0, 1, 2]
        .map(() => toNm(around + random.normal(block.noiseNm)))
        .sort((a, b) => a - b)
        .map((nm) => ({
          tMs: 0,
          rawMinNm: nm,
          turningPointNm: nm,
          samples: 9,
          method: "rhythm" as const,
          use: "kept" as const,
        }));
      const tMs = 10_000 * (index * job.stations.length + station + 1);
      return { bore, place, tMs, overZeroNm: (sweeps[1] as (typeof sweeps)[0]).turningPointNm, sweeps };
    });
  });
}
