import type { StationPlace } from "../block/layout.ts";
import type { BudgetSettings } from "./finding.ts";
import { combine, type UncertainInput } from "./gum.ts";

/** A station's clearance with what does not cancel when two stations of a bore are compared; nm. */
export interface FormStation {
  readonly place: StationPlace;
  readonly clearanceNm: number;
  readonly repeatability: { readonly u: number; readonly degreesOfFreedom: number };
  readonly resolution: number;
}

/** A difference of form, nm, not negative, with its expanded uncertainty at 95 %, nm. Not rounded. */
export interface FormFinding {
  readonly value: number;
  readonly expanded: number;
}

/**
 * What does not cancel between two stations of one bore: their own repeatability, rounding and centring. The zero, the
 * micrometer, the lifter, temperature and the indicator (a few µm apart on its travel) are common to both. Centring is
 * short by 0 … a at each; its mean cancels, so here it counts a/√12.
 */
function ownInputs(station: FormStation, weight: number, budget: BudgetSettings): UncertainInput[] {
  const at = `${station.place.height} ${station.place.clock}`;
  const exact = Number.POSITIVE_INFINITY;
  return [
    { name: `repeatability, ${at}`, sensitivity: weight, ...station.repeatability },
    { name: `resolution, ${at}`, sensitivity: weight, u: station.resolution, degreesOfFreedom: exact },
    {
      name: `centring, ${at}`,
      sensitivity: weight,
      u: budget.centringNm / Math.sqrt(12),
      degreesOfFreedom: exact,
    },
  ];
}

function groupBy(stations: readonly FormStation[], key: (place: StationPlace) => string): FormStation[][] {
  const groups = new Map<string, FormStation[]>();
  for (const station of stations) {
    const group = groups.get(key(station.place));
    if (group === undefined) groups.set(key(station.place), [station]);
    else group.push(station);
  }
  return [...groups.values()];
}

const meanOf = (group: readonly FormStation[]) =>
  group.reduce((sum, station) => sum + station.clearanceNm, 0) / group.length;

/** Range of the means of groups, with the uncertainty of the two that span it. */
function rangeOfMeans(groups: readonly FormStation[][], budget: BudgetSettings): FormFinding | null {
  const sorted = [...groups].sort((a, b) => meanOf(a) - meanOf(b));
  const smallest = sorted[0];
  const largest = sorted[sorted.length - 1];
  if (smallest === undefined || largest === undefined || sorted.length < 2) return null;
  const inputs = [smallest, largest].flatMap((group) =>
    group.flatMap((station) => ownInputs(station, 1 / group.length, budget)),
  );
  return { value: meanOf(largest) - meanOf(smallest), expanded: combine(inputs).expanded };
}

/**
 * Taper: range over heights of the mean over clock directions. Only heights
 * measured in the same clock directions are compared, because an oval bore would pass for a tapered one otherwise.
 * Null with fewer than two such heights.
 */
export function taperOf(stations: readonly FormStation[], budget: BudgetSettings): FormFinding | null {
  const heights = groupBy(stations, (place) => place.height);
  const most = Math.max(0, ...heights.map((group) => group.length));
  return rangeOfMeans(
    heights.filter((group) => group.length === most),
    budget,
  );
}

/** Out-of-round: range over clock directions at a height, the largest of the heights. Null with one direction only. */
export function outOfRoundOf(stations: readonly FormStation[], budget: BudgetSettings): FormFinding | null {
  let worst: FormFinding | null = null;
  for (const height of groupBy(stations, (place) => place.height)) {
    const range = rangeOfMeans(
      groupBy(height, (place) => place.clock),
      budget,
    );
    if (range !== null && (worst === null || range.value > worst.value)) worst = range;
  }
  return worst;
}
