import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { keptTurningPoints, repeatabilityOf, stationRepeatability } from "../../fit/repeatability.ts";
import { median } from "../../sweep/median.ts";
import { noticeText } from "../noticeText.ts";
import { restScatter } from "./apart.ts";
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
 * A bore that repeats the one before it at every station, closer than two bores of this block do by chance: was the
 * same bore measured twice?
 *
 * Derived here: bores differ by a shift common to their stations and by form. Both are estimated from this block (two-way
 * layout of bores and stations), and the probability that all m differences of two bores lie within the largest seen
 * is ∫ φ(s)·(Φ((T−s)/√2σ_form) − Φ((−T−s)/√2σ_form))^m ds, φ normal of variance 2σ_shift². It is said only if that is
 * below the false alarms allowed, shared among all pairs. With two stations a bore and the bores of a new block, alike
 * within a few µm, chance repeats are so common that hardly any such blunder can be told; with more stations, finer
 * resolution or a used block most can. The tests print how many.
 */
export const sameBore: Rule<Seen> = (sight) => {
  const alike = alikeBores(sight);
  if (alike.length === 0) return NOTHING;
  const repeats = repeatsWithin(sight);
  return alike
    .filter(({ largestNm }) => largestNm <= repeats)
    .map(({ bore, before }) => ({
      code: "same-bore" as const,
      text: noticeText.sameBore(bore, before),
      where: { bore },
    }));
};

/** A bore nearer to the one before it than chance allows, and the largest difference of their stations, nm. */
interface Alike {
  readonly bore: string;
  readonly before: string;
  readonly largestNm: number;
}

/** Every station asks, and the bores that are whole are mostly the same as when the last one asked. */
const lastAlike = new WeakMap<readonly WholeBore[], { readonly of: Seen; readonly alike: readonly Alike[] }>();

function alikeBores(sight: Seen): readonly Alike[] {
  const { job, bore: gauge, bores } = sight;
  const last = lastAlike.get(bores);
  if (last !== undefined && last.of.job === job && last.of.bore === gauge) return last.alike;
  const alike = findAlike(sight);
  lastAlike.set(bores, { of: sight, alike });
  return alike;
}

function findAlike({ job, bore: gauge, bores }: Seen): readonly Alike[] {
  if (bores.length < FEWEST_BORES) return [];
  const spread = spreadOf(bores);
  const allowed = FALSE_ALARMS / Math.max(1, job.walk.length - 1);
  const { resolutionNm, sends } = gauge.profile;
  return bores.slice(1).flatMap((bore, index) => {
    const before = bores[index] as WholeBore;
    const differences = bore.valuesNm.map((value, station) => Math.abs(value - (before.valuesNm[station] as number)));
    const largestNm = Math.max(...differences);
    // Rounded single readings that are equal differ by up to a graduation.
    const within = largestNm + (sends === "stream" ? 0 : resolutionNm);
    if (chanceWithin(within, spread, differences.length) >= allowed) return [];
    return [{ bore: bore.name, before: before.name, largestNm }];
  });
}

interface Spread {
  /** Standard deviation of what all stations of a bore share, nm. */
  readonly shiftNm: number;
  /** Standard deviation of a station within its bore, measuring included, nm. */
  readonly formNm: number;
}

function spreadOf(bores: readonly WholeBore[]): Spread {
  const means = bores.map((bore) => bore.meanNm);
  const stations = bores[0]?.valuesNm.length ?? 1;
  const stationMeans = Array.from(
    { length: stations },
    (_, station) => bores.reduce((sum, bore) => sum + (bore.valuesNm[station] as number), 0) / bores.length,
  );
  const grand = means.reduce((sum, mean) => sum + mean, 0) / means.length;
  let squares = 0;
  for (const bore of bores) {
    for (const [station, value] of bore.valuesNm.entries()) {
      squares += (value - bore.meanNm - (stationMeans[station] as number) + grand) ** 2;
    }
  }
  const form = stations < 2 ? 0 : squares / ((bores.length - 1) * (stations - 1));
  // An odd bore among them would make a repeat look rarer than it is.
  const between = restScatter(means, median(means)) ** 2;
  return { shiftNm: Math.sqrt(Math.max(0, between - form / stations)), formNm: Math.sqrt(form) };
}

/** Probability that all differences of two different bores lie within ±`within` nm. */
export function chanceWithin(within: number, { shiftNm, formNm }: Spread, stations: number): number {
  const shift = Math.SQRT2 * shiftNm;
  const form = Math.SQRT2 * formNm;
  const inside = (s: number) =>
    form === 0
      ? Number(Math.abs(s) <= within)
      : (normalCdf((within - s) / form, 0, 1) - normalCdf((-within - s) / form, 0, 1)) ** stations;
  if (shift === 0) return inside(0);
  const reach = within + 6 * form;
  const steps = 200;
  let sum = 0;
  for (let step = 0; step < steps; step += 1) {
    const s = ((step + 0.5) / steps) * reach;
    sum += inside(s) * Math.exp(-0.5 * (s / shift) ** 2);
  }
  // The integrand is even in s.
  return Math.min(1, (2 * sum * reach) / steps / (shift * Math.sqrt(2 * Math.PI)));
}

/** Largest difference of one bore measured twice, nm. */
function repeatsWithin({ job, bore, stations }: Seen): number {
  const { sends, resolutionNm } = bore.profile;
  const groups = stations.map((station) => keptTurningPoints(station.sweeps));
  const repeatability = repeatabilityOf(groups, sends, resolutionNm);
  const u = stationRepeatability(repeatability, job.sweepsPerStation);
  const rounding = sends === "stream" ? 0 : resolutionNm / Math.sqrt(12);
  return REPEATS * Math.SQRT2 * Math.hypot(u, AGAIN_NM, rounding);
}
