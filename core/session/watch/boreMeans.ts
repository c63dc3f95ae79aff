import type { Job } from "../job.ts";
import type { SeenStation, WholeBore } from "./sight.ts";

/**
 * The bores of which every station is closed and holds, in the order they were finished; `before` itself, as it was
 * found the last time, if nothing about them is new.
 */
export function wholeBores(
  job: Job,
  stations: readonly SeenStation[],
  before: readonly WholeBore[] = [],
): readonly WholeBore[] {
  const bores = boresOf(job, stations);
  const known = bores.length === before.length && bores.every((bore, index) => isSame(bore, before[index]));
  return known ? before : bores;
}

function isSame(one: WholeBore, other: WholeBore | undefined): boolean {
  if (one.name !== other?.name || one.tMs !== other.tMs) return false;
  return one.valuesNm.every((value, index) => Object.is(value, other.valuesNm[index]));
}

function boresOf(job: Job, stations: readonly SeenStation[]): readonly WholeBore[] {
  const byBore = new Map<string, SeenStation[]>();
  for (const station of stations) {
    const own = byBore.get(station.bore);
    if (own === undefined) byBore.set(station.bore, [station]);
    else own.push(station);
  }
  const bores: WholeBore[] = [];
  for (const name of job.walk) {
    const own = byBore.get(name) ?? [];
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
