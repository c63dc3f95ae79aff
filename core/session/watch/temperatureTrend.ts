import tCdf from "@stdlib/stats-base-dists-t-cdf";
import { toNm } from "../../length/nm.ts";
import { noticeText } from "../noticeText.ts";
import { NOTHING, type Rule, type Sight } from "./sight.ts";

/** A line through fewer bores says nothing. Our choice. */
const FEWEST_BORES = 8;
/** Probability that bores without a trend are accused of one at a look. Our choice: a walk looks a dozen times. */
const BY_CHANCE = 0.00001;
/** A trend below this part of the allowed band changes no verdict worth a stop. Our choice. */
const BAND_PART = 0.5;

type Seen = Pick<Sight, "job" | "bore" | "bores" | "references">;

/**
 * The readings trend with time, as they do while block, lifter or gauge warm or cool. Two signs: return checks that
 * each held, yet have crept together further than one of them may; and bores that grow or shrink one after another
 * (least squares of their means over time, Student's t of the slope). Bores of a block differ by more than a
 * few degrees do to them, so the second finds only a large trend; and on a used block neighbours are alike, so that
 * sizes wander up or down by themselves: what neighbours about the line share makes the slope so much less sure
 * (effective number of values of a first-order autocorrelated series; common practice, no source).
 */
export const temperatureTrend: Rule<Seen> = (sight) => {
  const { id, unit } = sight.bore.profile;
  const creep = creepOfZero(sight);
  const trend = creep === 0 ? trendOfBores(sight) : 0;
  if (creep === 0 && trend === 0) return NOTHING;
  const text = creep === 0 ? noticeText.boresTrend(toNm(trend), unit) : noticeText.zeroCreeps(toNm(creep), unit);
  return [{ code: "temperature", text, where: { gauge: id } }];
};

/** How far the zero has crept since it was made, nm, signed; 0 while that is within what one check may show. */
function creepOfZero({ job, references }: Seen): number {
  const first = references.findLastIndex((reference) => reference.kind === "zero" || !reference.held);
  const last = references.at(-1);
  const zero = references[Math.max(0, first)];
  if (zero === undefined || last === undefined) return 0;
  const creep = last.valueNm - zero.valueNm;
  return Math.abs(creep) > job.zeroHoldNm ? creep : 0;
}

/** How far the bores have trended from the first to the last, nm, signed; 0 while that may be chance. */
function trendOfBores(sight: Seen): number {
  const { bores } = sight;
  const count = bores.length;
  if (count < FEWEST_BORES) return 0;
  const middleMs = sumOf(bores.map((bore) => bore.tMs)) / count;
  const middleNm = sumOf(bores.map((bore) => bore.meanNm)) / count;
  const tt = sumOf(bores.map(({ tMs }) => (tMs - middleMs) ** 2));
  if (tt === 0) return 0;
  const slope = sumOf(bores.map(({ tMs, meanNm }) => (tMs - middleMs) * (meanNm - middleNm))) / tt;
  const restsNm = bores.map(({ tMs, meanNm }) => meanNm - middleNm - slope * (tMs - middleMs));
  const rest = sumOf(restsNm.map((nm) => nm ** 2)) / (count - 2);
  const total = slope * ((bores.at(-1)?.tMs ?? 0) - (bores[0]?.tMs ?? 0));
  const { lowNm, highNm } = sight.job.limits;
  if (Math.abs(total) < BAND_PART * (highNm - lowNm)) return 0;
  const shared = sharedByNeighbours(restsNm);
  const t = Math.abs(slope) / Math.sqrt(((rest / tt) * (1 + shared)) / (1 - shared));
  return 2 * (1 - tCdf(t, count - 2)) < BY_CHANCE ? total : 0;
}

/** As much as neighbours can share before a line through them says nothing at all. Our choice. */
const MOST_SHARED = 0.95;

/**
 * Autocorrelation of neighbours about their line, 0 … `MOST_SHARED`; 0 where they have less in common than chance. A
 * line through n values takes (2 + 4r)/n of it away with it (Kendall's bias, for a line; from memory), given back here.
 */
function sharedByNeighbours(rests: readonly number[]): number {
  const all = sumOf(rests.map((rest) => rest ** 2));
  const pairs = sumOf(rests.slice(1).map((rest, index) => rest * (rests[index] as number)));
  const shared = (pairs / all + 2 / rests.length) / (1 - 4 / rests.length);
  return all === 0 ? 0 : Math.min(MOST_SHARED, Math.max(0, shared));
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
