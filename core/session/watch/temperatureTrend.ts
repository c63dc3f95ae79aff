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
 * few degrees do to them, so the second finds only a large trend.
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
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / count;
  const middleMs = mean(bores.map((bore) => bore.tMs));
  const middleNm = mean(bores.map((bore) => bore.meanNm));
  let tt = 0;
  let tv = 0;
  let vv = 0;
  for (const { tMs, meanNm } of bores) {
    tt += (tMs - middleMs) ** 2;
    tv += (tMs - middleMs) * (meanNm - middleNm);
    vv += (meanNm - middleNm) ** 2;
  }
  if (tt === 0) return 0;
  const slope = tv / tt;
  const rest = Math.max(0, vv - slope * tv) / (count - 2);
  const total = slope * ((bores.at(-1)?.tMs ?? 0) - (bores[0]?.tMs ?? 0));
  const { lowNm, highNm } = sight.job.limits;
  if (Math.abs(total) < BAND_PART * (highNm - lowNm)) return 0;
  const t = Math.abs(slope) / Math.sqrt(rest / tt);
  return 2 * (1 - tCdf(t, count - 2)) < BY_CHANCE ? total : 0;
}
