import { findBores } from "../fit/findBores.ts";
import type { BoreFinding, FitInput } from "../fit/finding.ts";
import type { SizedBore } from "../fit/lifterFits.ts";
import type { Nm } from "../length/nm.ts";
import { atOnce } from "./atOnce.ts";
import { type BlockPlan, blockPlansByStep, choosePlan } from "./blockPlans.ts";
import { type BoreInHand, boreOptions, bushOption, honeOption } from "./boreOptions.ts";
import { boresInHand, type RemedyInput } from "./boresInHand.ts";
import { measuredLifter } from "./lifterIn.ts";
import type { RemedyOption } from "./remedyOption.ts";
import type { Deed } from "./ways.ts";

/** What can be done with one bore of the walk. */
export interface BoreRemedy {
  readonly finding: BoreFinding;
  /** Null for a bore that is not measured at every station under a zero that holds: it has no options. */
  readonly bore: SizedBore | null;
  /** Every way, least effort first; of one kind the one that the plan takes comes first. */
  readonly options: readonly RemedyOption[];
  /** What the plan does with it; null for a bore that is not measured. */
  readonly deed: Deed | null;
}

/** A bore that the plan does not make fit, and why. */
export interface OpenBore {
  readonly bore: string;
  /** It may well fit: a better measurement decides. */
  readonly undecided: boolean;
  readonly why: string;
}

/** What to do with each bore and with the block. */
export interface BlockRemedy {
  /** Every bore of the walk, in its order. */
  readonly bores: readonly BoreRemedy[];
  /** Side by side, least effort first. */
  readonly plans: readonly BlockPlan[];
  readonly plan: BlockPlan;
  readonly open: readonly OpenBore[];
  /** Why no plan moves lifters, a sentence; null if some do. */
  readonly noPairing: string | null;
}

/**
 * Works out the remedy from what was measured. `ownBody` is a lifter body (nm at 20 °C) that the user asks about.
 * The same input gives the same remedy.
 */
export function remedyFor(input: RemedyInput, ownBody: Nm | null = null): BlockRemedy {
  return atOnce(remedyByStep(input, ownBody));
}

/** `remedyFor`, a plan or a bore at a time, for a program that has a gauge to listen to in between. */
export function* remedyByStep(input: RemedyInput, ownBody: Nm | null): Generator<void, BlockRemedy, void> {
  const inHand = boresInHand(input);
  yield;
  const { plans, noPairing } = yield* blockPlansByStep(input, inHand, ownBody);
  yield;
  const plan = choosePlan(plans);
  const deeds = new Map(plan.deeds.map((deed) => [deed.bore, deed]));
  const hands = new Map(inHand.bores.map((hand) => [hand.bore.name, hand]));
  const bores: BoreRemedy[] = [];
  for (const finding of inHand.findings) {
    const hand = hands.get(finding.name);
    const deed = deeds.get(finding.name) ?? null;
    if (hand === undefined) bores.push({ finding, bore: null, options: [], deed: null });
    else bores.push({ finding, bore: hand.bore, options: withPlanned(boreOptions(hand, ownBody), deed), deed });
    yield;
  }
  const open: OpenBore[] = [];
  for (const deed of plan.deeds) {
    const hand = hands.get(deed.bore);
    if (deed.open === null || hand === undefined) continue;
    open.push({ bore: deed.bore, undecided: deed.open === "undecided", why: whyOpen(input.fit, hand, deed) });
    yield;
  }
  return { bores, plans, plan, open, noPairing };
}

/** Puts the option that the plan takes first of its kind, and leaves out the one that says the same. */
function withPlanned(options: readonly RemedyOption[], deed: Deed | null): readonly RemedyOption[] {
  if (deed === null) return options;
  const { option } = deed;
  const same = (other: RemedyOption) =>
    other.kind === option.kind && other.lifter === option.lifter && other.lifterNm === option.lifterNm;
  const others = options.filter((other) => !same(other));
  const at = others.findIndex(({ kind }) => kind === option.kind);
  if (at !== -1) return others.toSpliced(at, 0, option);
  return options.map((other) => (same(other) ? option : other));
}

function whyOpen(fit: FitInput, hand: BoreInHand, { bore, option, moves, open }: Deed): string {
  const lifterNm = option.lifter === null ? undefined : fit.lifters.get(option.lifter);
  const into = option.lifter === null || lifterNm === undefined ? undefined : measuredLifter(option.lifter, lifterNm);
  if (open !== "undecided") {
    const cuts = [honeOption(hand, into), bushOption(hand, into)].filter(({ possible }) => !possible);
    return [option.why, ...cuts.map(({ kind, why }) => `${kind === "hone" ? "Honing" : "A bush"}: ${why}`)].join(" ");
  }
  const fitted = new Map([...(fit.fitted ?? []), ...(moves ? [[bore, option.lifter ?? bore] as const] : [])]);
  const advice = findBores({ ...fit, bores: [bore], fitted })[0]?.advice ?? null;
  const bush = bushOption(hand, into);
  return [
    ...(moves || advice === null ? [option.why] : []),
    ...(advice === null ? [] : [advice]),
    ...(bush.possible ? ["Treated as not fitting, it would take a bush."] : []),
  ].join(" ");
}
