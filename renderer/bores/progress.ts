import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";

/** How far the walk has got; counts from 1, `null` while the walk stands nowhere. */
export interface Progress {
  readonly bore: number | null;
  readonly bores: number;
  readonly station: number | null;
  readonly stations: number;
  readonly measuredBores: number;
  readonly measuredStations: number;
  readonly allStations: number;
}

/** Counts what is done, from the findings; a station counts when it has a clearance that stands. */
export function progressOf(view: SessionView, job: Job): Progress {
  const { here } = view;
  const bore = here === null ? -1 : job.walk.indexOf(here.bore);
  const station =
    here === null
      ? -1
      : job.stations.findIndex((place) => place.height === here.place.height && place.clock === here.place.clock);
  const measured = view.bores.map((one) => one.stations.filter((found) => found.clearanceNm !== null).length);
  return {
    bore: bore < 0 ? null : bore + 1,
    bores: job.walk.length,
    station: station < 0 ? null : station + 1,
    stations: job.stations.length,
    measuredBores: measured.filter((count) => count >= job.stations.length).length,
    measuredStations: measured.reduce((sum, count) => sum + count, 0),
    allStations: job.walk.length * job.stations.length,
  };
}
