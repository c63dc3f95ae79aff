import type { StationPlace } from "../../core/block/layout.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { type Job, lifterNames } from "../../core/session/job.ts";
import type { Random } from "./random.ts";

/** A block and its lifters as they truly are, nm at 20 °C. */
export interface TrueBlock {
  /** Diameter of every lifter by the bore it is meant for. */
  readonly lifters: Map<string, Nm>;
  /** Mean diameter, taper (top less bottom) and oval (axial less cross) of every bore. */
  readonly bores: Map<string, { diameterNm: number; taperNm: number; ovalNm: number }>;
}

/**
 * Draws a block that suits the job: clearances about the middle of the limits, most of the bores inside, some not.
 * All scatter is triangular, so that no bore or lifter stands out from its fellows by chance: what is odd on a clean
 * bench would be a false alarm of the bench, not of the tool.
 */
export function drawBlock(job: Job, random: Random): TrueBlock {
  const { lowNm, highNm, preferredLowNm, preferredHighNm } = job.limits;
  const middle = ((preferredLowNm ?? lowNm) + (preferredHighNm ?? highNm)) / 2;
  const scatter = 0.75 * (highNm - lowNm);
  const lifters = new Map<string, Nm>();
  const bores: TrueBlock["bores"] = new Map();
  for (const name of job.walk) {
    // Lifters of one make: a little under nominal, within a tenth of each other (our choice).
    const lifter = job.lifter.nominalNm - 2_500 + random.triangular(2_500);
    lifters.set(name, toNm(lifter));
    bores.set(name, {
      diameterNm: lifter + middle + random.triangular(scatter),
      taperNm: 800 + random.triangular(1_500),
      ovalNm: random.triangular(1_500),
    });
  }
  const spares = lifterNames(job).filter((name) => !lifters.has(name));
  for (const name of spares) lifters.set(name, toNm(job.lifter.nominalNm - 2_500 + random.triangular(2_500)));
  return { lifters, bores };
}

/** So far apart are neighbours of a worn block, standard deviation of one step of the walk, nm. Our choice, as all of these. */
const STEP_NM = 2_500;
const OVAL_NM = 6_000;
const FAR_OUT_NM = 60_000;

/**
 * Draws a used block: sizes that wander along the block from bore to bore (a random walk, pulled back to the middle of
 * the limits), taper everywhere, wide at the top, two bores gone oval along the crank and one far out. Lifters are worn
 * apart, too.
 */
export function wornBlock(job: Job, random: Random): TrueBlock {
  const { lowNm, highNm } = job.limits;
  const lifters = new Map<string, Nm>();
  const bores: TrueBlock["bores"] = new Map();
  const oval = new Set([random.below(job.walk.length), random.below(job.walk.length)]);
  const farOut = random.below(job.walk.length);
  let wander = random.normal(STEP_NM);
  for (const [index, name] of job.walk.entries()) {
    const lifter = job.lifter.nominalNm - 2_500 + random.triangular(4_000);
    lifters.set(name, toNm(lifter));
    const worn = index === farOut ? FAR_OUT_NM * (0.5 + random.next()) : 0;
    bores.set(name, {
      diameterNm: job.lifter.nominalNm - 2_500 + (lowNm + highNm) / 2 + wander + worn,
      taperNm: random.between(0, 3_000),
      ovalNm: oval.has(index) ? OVAL_NM * (0.5 + random.next()) : random.triangular(1_000),
    });
    wander = 0.9 * wander + random.normal(STEP_NM);
  }
  for (const name of lifterNames(job)) {
    if (!lifters.has(name)) lifters.set(name, toNm(job.lifter.nominalNm - 2_500 + random.triangular(4_000)));
  }
  return { lifters, bores };
}

/**
 * True diameter (nm at 20 °C) of a bore at a station. Heights are taken in the order the job first names them, from
 * the top of the taper to its foot. A two-point gauge sees the oval and nothing of a three-lobed form.
 * @throws RangeError for a bore that is not in the block.
 */
export function trueDiameter(block: TrueBlock, job: Job, bore: string, place: StationPlace): number {
  const form = block.bores.get(bore);
  if (form === undefined) throw new RangeError(`no bore ${bore} in the simulated block`);
  const heights = [...new Set(job.stations.map((station) => station.height))];
  const down = heights.length < 2 ? 0.5 : heights.indexOf(place.height) / (heights.length - 1);
  const oval = place.clock === "axial" ? form.ovalNm / 2 : -form.ovalNm / 2;
  return form.diameterNm + form.taperNm * (0.5 - down) + oval;
}
