import type { Sight } from "./sight.ts";

/** A bore with all of its stations measured, in one moment. */
export interface WholeBore {
  readonly name: string;
  /** When its last station closed. */
  readonly tMs: number;
  /** Over the zero, nm, one a station in the order of the job. */
  readonly valuesNm: readonly number[];
  readonly meanNm: number;
}

/** The bores of which every station is closed and holds, in the order they were finished. */
export function wholeBores({ job, stations }: Pick<Sight, "job" | "stations">): readonly WholeBore[] {
  const bores: WholeBore[] = [];
  for (const name of job.walk) {
    const own = stations.filter((station) => station.bore === name);
    const inOrder = job.stations.map((place) =>
      own.find((station) => station.place.height === place.height && station.place.clock === place.clock),
    );
    if (inOrder.some((station) => station === undefined)) continue;
    const valuesNm = own.length === 0 ? [] : inOrder.map((station) => station?.overZeroNm ?? Number.NaN);
    bores.push({
      name,
      tMs: Math.max(...own.map((station) => station.tMs)),
      valuesNm,
      meanNm: valuesNm.reduce((sum, value) => sum + value, 0) / valuesNm.length,
    });
  }
  return bores.sort((one, other) => one.tMs - other.tMs);
}
