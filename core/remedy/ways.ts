import type { FitInput, Verdict } from "../fit/finding.ts";
import type { LifterFit } from "../fit/lifterFits.ts";
import { preferredBand } from "../fit/preferredBand.ts";
import type { Nm } from "../length/nm.ts";
import type { Way } from "../pairing/chooseLifters.ts";
import type { Objective } from "../pairing/lexicographicAssignment.ts";
import { doubledDeviation } from "../pairing/pairingTarget.ts";
import { type BoreInHand, bushOption, honeOption, leaveOption, pairOption } from "./boreOptions.ts";
import { type LifterIn, lifterNow, measuredLifter } from "./lifterIn.ts";
import { isCutting, type RemedyOption } from "./remedyOption.ts";
import { standsOn } from "./standsAgain.ts";

/** What is done to one bore in a plan. */
export interface Deed {
  readonly bore: string;
  readonly option: RemedyOption;
  /** It gets another lifter than it has. */
  readonly moves: boolean;
  /** What it is found to be with that lifter and nothing cut, where nothing is done that makes it fit; null where it is expected to fit. */
  readonly open: Exclude<Verdict, "fits" | "not measured"> | null;
  /** It fits with nothing cut, yet so near what the rule allows that measuring again may find it undecided. */
  readonly near: boolean;
}

/** What a plan may do beside giving a bore another lifter. */
export type Cutting = readonly ("hone" | "bush")[];

/**
 * What counts in a plan that cuts, in this order:
 * 1. bores known not to fit for which nothing is done,
 * 2. bores that are, or would be, undecided,
 * 3. bushes: only for what can not be made to fit otherwise,
 * 4. bores cut in,
 * 5. metal taken off, in whole steps of `METAL_STEP_NM`,
 * 6. bores that fit so narrowly that measuring again may find them undecided,
 * then, as in the pairing, 7. bores not in the preferred band, 8. the largest deviation, 9. the sum of squared
 * deviations, 10. lifters that leave the bore they were measured for.
 */
export const PLAN_OBJECTIVES: readonly Objective[] = [
  "sum",
  "sum",
  "sum",
  "sum",
  "sum",
  "sum",
  "sum",
  "largest",
  "sum",
  "sum",
];

/** A bore farther from the target than this is no further from it in the sums, nm, which keeps them exact. Our choice. */
const FARTHEST_NM = 1_000_000;

/** Less metal than this is not told apart at a hone, nm; a move of a lifter is not worth it. Our choice. */
export const METAL_STEP_NM = 1_000;

/**
 * The ways to deal with a bore that gets `lifter` (by name; null: keeps what stands in for its own), by what may be cut,
 * least effort first. A bore is bushed only if it is known not to fit as it is: one that is undecided is measured better
 * first.
 */
export function waysFor(hand: BoreInHand, lifter: string | null, cutting: Cutting): Way<Deed>[] {
  const { input, bore, finding } = hand;
  const keeps = lifter === null || lifter === finding.lifter;
  const fit = lifter === null ? null : hand.fits.of(bore.name, lifter);
  const verdict = fit?.verdict ?? finding.verdict;
  if (verdict === "not measured") throw new RangeError(`bore ${bore.name} is not measured`);
  const asItIs = keeps || fit === null ? leaveOption(hand) : pairOption(hand, lifter, fit);
  const moved = lifter === null || lifter === bore.name ? 0 : 1;
  const way = (option: RemedyOption, open: Deed["open"], preferred: boolean, near = false): Way<Deed> => {
    const doubled = doubledDeviationOf(option, input);
    return {
      costs: [
        open === null || open === "undecided" ? 0 : 1,
        open === "undecided" ? 1 : 0,
        option.kind === "bush" ? 1 : 0,
        isCutting(option.kind) ? 1 : 0,
        Math.ceil(option.removeNm / METAL_STEP_NM),
        near ? 1 : 0,
        preferred ? 0 : 1,
        Math.abs(doubled),
        doubled * doubled,
        moved,
      ],
      is: { bore: bore.name, option, moves: !keeps, open, near },
    };
  };
  if (verdict === "fits") {
    const measureOn = standsOn(hand, lifter);
    return [way({ ...asItIs, measureOn }, null, fit?.preferred ?? finding.preferred, measureOn === null)];
  }
  const into: LifterIn =
    lifter === null ? lifterNow(input, bore, finding) : measuredLifter(lifter, input.lifters.get(lifter) as Nm);
  const ways = [way(asItIs, verdict, false)];
  if (cutting.includes("hone")) {
    const hone = honeOption(hand, into);
    if (hone.possible) ways.push(way(hone, null, isAimedAtPreferred(hone, input)));
  }
  if (cutting.includes("bush") && finding.verdict !== "undecided" && finding.verdict !== "fits") {
    const bush = bushOption(hand, into);
    if (bush.possible) ways.push(way(bush, null, isAimedAtPreferred(bush, input)));
  }
  return ways;
}

/** Where the bore ends, or for what is cut the middle of where it may end, twice its distance from the target, nm, signed. */
function doubledDeviationOf(
  { clearanceLowNm, clearanceHighNm }: Pick<RemedyOption, "clearanceLowNm" | "clearanceHighNm">,
  { limits }: FitInput,
): number {
  if (clearanceLowNm === null || clearanceHighNm === null) return 0;
  const doubled = doubledDeviation({ clearanceMinNm: clearanceLowNm, clearanceMaxNm: clearanceHighNm }, limits);
  return Math.max(-2 * FARTHEST_NM, Math.min(2 * FARTHEST_NM, doubled));
}

/** The middle of the finished size lies in the preferred band. */
function isAimedAtPreferred(option: RemedyOption, input: FitInput): boolean {
  const { lowNm, highNm } = preferredBand(input.limits);
  return Math.abs(doubledDeviationOf(option, input)) <= highNm - lowNm;
}

/** The fit of a way without a cut, as the pairing sees it. */
export function pairedDeed(hand: BoreInHand, lifter: string, fit: LifterFit): Deed {
  const keeps = lifter === hand.finding.lifter;
  const measureOn = fit.verdict === "fits" ? standsOn(hand, lifter) : null;
  return {
    bore: hand.bore.name,
    option: { ...(keeps ? leaveOption(hand) : pairOption(hand, lifter, fit)), measureOn },
    moves: !keeps,
    open: fit.verdict === "fits" ? null : fit.verdict,
    near: fit.verdict === "fits" && measureOn === null,
  };
}
