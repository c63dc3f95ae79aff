import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { keptTurningPoints, repeatabilityOf, stationRepeatability } from "../../fit/repeatability.ts";
import { medianOfSorted } from "../../sweep/median.ts";
import { noticeText } from "../noticeText.ts";
import { along, formDirections } from "./formDirections.ts";
import { NOTHING, type Rule, type Sight, type WholeBore } from "./sight.ts";

/** Part of clean walks in which one bore may be taken for the one before it. Our choice. */
const FALSE_ALARMS = 0.003;
/** With fewer bores too little is known of how much the bores of this block differ. Our choice. */
const FEWEST_BORES = 8;
/** What putting the gauge in once more adds to the repeatability: centring and hand, nm. Our choice. */
const AGAIN_NM = 200;
/** Stations of one bore measured twice repeat within this many standard deviations. */
const REPEATS = 3;

type Seen = Pick<Sight, "job" | "bore" | "bores" | "stations">;

/**
 * A bore that repeats the one before it at every station, closer than two neighbours of this block do by chance: was the
 * same bore measured twice?
 *
 * Derived here. Two bores differ in size, taper, oval and so on (`formDirections`); how much neighbours differ in each,
 * this block shows: the scatter of the other neighbours' differences, robust, as bores of a used block wander from one
 * to the next and a few are worn far out. The largest difference of a pair, in standard deviations of one bore measured
 * twice, is held against the probability that two neighbours lie as near in every direction at once, the directions taken
 * as independent and their differences as normal (the tests count how often that accuses clean blocks). It is said only
 * if that is below the false alarms allowed, shared among all pairs. A direction in which the bores of this block do
 * not differ beyond the repeatability says nothing for or against. With two stations a bore and the bores of a new
 * block, alike within a few µm, chance repeats are so common that hardly any such blunder can be told; on a used block
 * of which taper and oval are measured most can. The tests print how many.
 */
export const sameBore: Rule<Seen> = (sight) => {
  const { bores, job } = sight;
  if (bores.length < FEWEST_BORES) return NOTHING;
  const neighbours = neighboursOf(sight);
  const repeatNm = repeatScatter(sight);
  const allowed = FALSE_ALARMS / (job.walk.length - 1);
  return neighbours.flatMap(({ bore, before, alongNm }, index) => {
    const largest = Math.max(...alongNm.map(Math.abs)) / repeatNm;
    if (largest > REPEATS) return [];
    // Nearer than one bore measured twice usually lies is no sign of more.
    const withinNm = Math.max(1, largest) * repeatNm;
    const others = neighbours.filter((_, other) => other !== index);
    const chance = alongNm.reduce((product, _, direction) => {
      const scatterNm = robustScatter(others.map((other) => other.alongNm[direction] as number));
      return product * within(withinNm, Math.max(scatterNm, repeatNm));
    }, 1);
    if (chance >= allowed) return [];
    return [{ code: "same-bore" as const, text: noticeText.sameBore(bore, before), where: { bore } }];
  });
};

/** A bore, the one measured before it, and their difference along each of the forms' directions, nm. */
interface Neighbours {
  readonly bore: string;
  readonly before: string;
  readonly alongNm: readonly number[];
}

/** Every station asks, and the bores that are whole are mostly the same as when the last one asked. */
const lastNeighbours = new WeakMap<readonly WholeBore[], readonly Neighbours[]>();

function neighboursOf({ job, bores }: Seen): readonly Neighbours[] {
  const known = lastNeighbours.get(bores);
  if (known !== undefined) return known;
  const directions = formDirections(job.stations);
  const neighbours = bores.slice(1).map((bore, index) => {
    const before = bores[index] as WholeBore;
    const differences = bore.valuesNm.map((value, station) => value - (before.valuesNm[station] as number));
    const alongNm = directions.map((direction) => along(differences, direction));
    return { bore: bore.name, before: before.name, alongNm };
  });
  lastNeighbours.set(bores, neighbours);
  return neighbours;
}

/**
 * Standard deviation about nought of differences of which some may be far out, nm: from the half or from the third that
 * is nearest to nought, whichever says less, as too large a scatter would accuse a clean block.
 */
function robustScatter(differences: readonly number[]): number {
  const sizes = differences.map(Math.abs).sort((a, b) => a - b);
  const third = sizes[Math.floor((sizes.length - 1) / 3)] as number;
  // Quantiles of the size of a standard normal value: a half lies within 0.6745, a third within 0.4307.
  return Math.min(medianOfSorted(sizes) / 0.6745, third / 0.4307);
}

/** Probability that a normal value of this standard deviation lies within ±`limit` of nought. */
function within(limit: number, deviation: number): number {
  return 2 * normalCdf(limit, 0, deviation) - 1;
}

/** Standard deviation of the difference of a station of one bore measured twice, nm. */
function repeatScatter({ job, bore, stations }: Seen): number {
  const { sends, resolutionNm } = bore.profile;
  const groups = stations.map((station) => keptTurningPoints(station.sweeps));
  const repeatability = repeatabilityOf(groups, sends, resolutionNm);
  const u = stationRepeatability(repeatability, job.sweepsPerStation);
  const rounding = sends === "stream" ? 0 : resolutionNm / Math.sqrt(12);
  return Math.SQRT2 * Math.hypot(u, AGAIN_NM, rounding);
}
