import type { StationPlace } from "../block/layout.ts";
import type { BudgetSettings } from "./finding.ts";
import { combine } from "./gum.ts";

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
 * What does not cancel between the stations at either end of a range, each with its weight: their own repeatability,
 * rounding and centring. The zero, the micrometer, the lifter, temperature and the indicator (a few µm apart on its
 * travel) are common to a bore. Centring is short by 0 … a at each; its mean cancels, so here it counts a/√12.
 */
function uncertaintyOf(ends: readonly (readonly FormStation[])[], budget: BudgetSettings): number {
  const weighted = (of: (station: FormStation) => number) =>
    Math.hypot(...ends.flatMap((group) => group.map((station) => of(station) / group.length)));
  const line = (name: string, u: number, degreesOfFreedom: number) => ({ name, u, degreesOfFreedom, sensitivity: 1 });
  // All stations share one pooled scatter, so together they have its degrees of freedom once.
  const pooled = Math.min(...ends.flat().map(({ repeatability }) => repeatability.degreesOfFreedom));
  return combine([
    line(
      "repeatability",
      weighted(({ repeatability }) => repeatability.u),
      pooled,
    ),
    line(
      "resolution",
      weighted(({ resolution }) => resolution),
      Number.POSITIVE_INFINITY,
    ),
    line(
      "centring",
      weighted(() => budget.centringNm / Math.sqrt(12)),
      Number.POSITIVE_INFINITY,
    ),
  ]).expanded;
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
  const [smallest, ...others] = sorted;
  const largest = others.at(-1);
  if (smallest === undefined || largest === undefined) return null;
  return { value: meanOf(largest) - meanOf(smallest), expanded: uncertaintyOf([smallest, largest], budget) };
}

/**
 * Taper: range over heights of the mean over clock directions. Only heights
 * measured in the same clock directions are compared, because an oval bore would pass for a tapered one otherwise.
 * Null where no two heights were; where several sets of directions were, the one with the most directions counts.
 */
export function taperOf(stations: readonly FormStation[], budget: BudgetSettings): FormFinding | null {
  const alike = new Map<string, FormStation[][]>();
  for (const height of groupBy(stations, (place) => place.height)) {
    const clocks = height.map(({ place }) => place.clock);
    const key = clocks.sort().join();
    alike.set(key, [...(alike.get(key) ?? []), height]);
  }
  const compared = [...alike.values()].filter((heights) => heights.length > 1);
  const [most] = compared.sort(([one = []], [other = []]) => other.length - one.length);
  return rangeOfMeans(most ?? [], budget);
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
