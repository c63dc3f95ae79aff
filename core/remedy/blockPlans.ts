import { type Nm, toNm } from "../length/nm.ts";
import { chooseLifters } from "../pairing/chooseLifters.ts";
import { PairingError } from "../pairing/pairingError.ts";
import { pairLifters } from "../pairing/pairLifters.ts";
import { type BoreInHand, bodyOption, leaveOption } from "./boreOptions.ts";
import type { BoresInHand, RemedyInput } from "./boresInHand.ts";
import { diameterText } from "./bothUnits.ts";
import { effortOf, isCutting } from "./remedyOption.ts";
import { largerBodies } from "./standardBodies.ts";
import { type Cutting, type Deed, PLAN_OBJECTIVES, pairedDeed, waysFor } from "./ways.ts";

/** A plan for the whole block; lengths in nm. */
export interface BlockPlan {
  /** In words, such as "hone only". */
  readonly name: string;
  /** For every measured bore, in walking order. */
  readonly deeds: readonly Deed[];
  /** A new lifter body for all of the block. */
  readonly wholeBlock: boolean;
}

/** A plan in figures. */
export interface PlanFigures {
  /** Bores known not to fit for which nothing is done. */
  readonly notFitting: number;
  /** Bores that stay undecided: to be measured better first. */
  readonly undecided: number;
  /** Bores that fit so narrowly that measuring again may find them undecided. */
  readonly near: number;
  /** Bores that metal is cut in. */
  readonly boresTouched: number;
  readonly bushes: number;
  /** Sum of what is removed on diameter, at the smallest station each; without what a bush takes. */
  readonly metalNm: Nm;
  /** Bores that get another lifter than they have. */
  readonly lifterMoves: number;
  /** Smallest and largest clearance that a bore ends at, what is left open among them; null without bores. */
  readonly tightestNm: Nm | null;
  readonly loosestNm: Nm | null;
  /** Sum of the orders of effort: an order and no measure. */
  readonly effort: number;
}

/** What a plan comes to. */
export function figuresOf({ deeds }: BlockPlan): PlanFigures {
  const count = (is: (deed: Deed) => boolean) => deeds.filter(is).length;
  const ends = deeds.flatMap(({ option: { clearanceLowNm, clearanceHighNm } }) =>
    clearanceLowNm === null || clearanceHighNm === null ? [] : [clearanceLowNm, clearanceHighNm],
  );
  return {
    notFitting: count(({ open }) => open !== null && open !== "undecided"),
    undecided: count(({ open }) => open === "undecided"),
    near: count(({ near }) => near),
    boresTouched: count(({ option }) => isCutting(option.kind)),
    bushes: count(({ option }) => option.kind === "bush"),
    metalNm: toNm(deeds.reduce((sum, { option }) => sum + option.removeNm, 0)),
    lifterMoves: count(({ moves }) => moves),
    tightestNm: ends.length === 0 ? null : toNm(Math.min(...ends)),
    loosestNm: ends.length === 0 ? null : toNm(Math.max(...ends)),
    effort: deeds.reduce((sum, { option }) => sum + effortOf(option.kind), 0),
  };
}

/**
 * The plans side by side, least effort first, and why those that pair lifters are missing, if they are; a plan at a time,
 * for a program that has a gauge to listen to in between.
 */
export function* blockPlansByStep(
  input: RemedyInput,
  inHand: BoresInHand,
  ownBody: Nm | null,
): Generator<void, { readonly plans: readonly BlockPlan[]; readonly noPairing: string | null }, void> {
  const { bores } = inHand;
  const plan = (name: string, deeds: readonly Deed[]): BlockPlan => ({ name, deeds, wholeBlock: false });
  const plans = [plan("leave as it is", keeping(bores, []))];
  yield;
  const honed = plan("hone only", keeping(bores, ["hone"]));
  yield;
  let noPairing: string | null = null;
  try {
    plans.push(plan("pair only", pairing(input, inHand)));
    yield;
    plans.push(honed);
    plans.push(plan("pair and hone", exchanging(input, inHand, ["hone"])));
    yield;
    plans.push(...bodyPlans(input, bores, ownBody));
    yield;
    plans.push(plan("pair and hone, bush the rest", exchanging(input, inHand, ["hone", "bush"])));
  } catch (error) {
    if (!(error instanceof PairingError)) throw error;
    noPairing = error.message;
    plans.push(honed, ...bodyPlans(input, bores, ownBody));
    plans.push(plan("hone, bush the rest", keeping(bores, ["hone", "bush"])));
  }
  return { plans, noPairing };
}

/**
 * The plan to be taken: fewest bores open, then fewest cut in, then fewest that get a bush or a larger body, least metal
 * (what a bush takes is not known and counts as more than any honing), fewest that fit narrowly, least effort; of equals the
 * first. Of the open
 * bores those known not to fit count first. A new body for the whole block counts as leaving as many bores undecided as
 * the best of the others: a better measurement of a few is not what one cuts a whole block for.
 */
export function choosePlan(plans: readonly BlockPlan[]): BlockPlan {
  const looked = plans.map((plan) => ({ plan, figures: figuresOf(plan) }));
  const others = looked.filter(({ plan }) => !plan.wholeBlock).map(({ figures }) => figures);
  const fewestWrong = Math.min(...others.map(({ notFitting }) => notFitting));
  const leastUndecided = Math.min(
    ...others.filter(({ notFitting }) => notFitting === fewestWrong).map(({ undecided }) => undecided),
  );
  const keyed = looked.map(({ plan, figures }) => ({
    plan,
    key: [
      figures.notFitting,
      plan.wholeBlock ? Math.max(figures.undecided, leastUndecided) : figures.undecided,
      figures.boresTouched,
      figures.bushes + (plan.wholeBlock ? figures.boresTouched : 0),
      figures.bushes > 0 ? Number.POSITIVE_INFINITY : figures.metalNm,
      figures.near,
      figures.effort,
    ],
  }));
  const [best] = keyed.sort((a, b) => compare(a.key, b.key));
  if (best === undefined) throw new RangeError("there is no plan to choose from");
  return best.plan;
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (const [index, value] of a.entries()) {
    const other = b[index] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
}

/** Every bore with the lifter it has. */
function keeping(bores: readonly BoreInHand[], cutting: Cutting): Deed[] {
  return bores.map((hand) => alone(hand, cutting));
}

/** The best way for a bore that keeps its lifter. */
function alone(hand: BoreInHand, cutting: Cutting): Deed {
  const [best] = waysFor(hand, nameNow(hand), cutting).sort((a, b) => compare(a.costs, b.costs));
  if (best === undefined) throw new RangeError(`no way for bore ${hand.bore.name}`);
  return best.is;
}

/** A bore between which and others lifters can not change places has what stands in for its own. */
function nameNow({ finding, allowed }: BoreInHand): string | null {
  return allowed.length === 0 ? null : finding.lifter;
}

/** The order of the lifters that `pair` gives, nothing cut. @throws PairingError when the rules can not be kept. */
function pairing({ fit, rules, style }: RemedyInput, { bores, exchange }: BoresInHand): Deed[] {
  const choice = new Map(
    pairLifters({
      ...exchange,
      rules,
      style,
      limits: fit.limits,
      fitOf: (bore, lifter) => handOf(bores, bore).fits.of(bore, lifter),
    }).map((chosen) => [chosen.bore, chosen]),
  );
  return bores.map((hand) => {
    const chosen = choice.get(hand.bore.name);
    return chosen === undefined || chosen.lifter === null
      ? alone(hand, [])
      : pairedDeed(hand, chosen.lifter, chosen.way);
  });
}

/** Lifters and cuts chosen together, exactly. @throws PairingError when the rules can not be kept. */
function exchanging({ rules, style }: RemedyInput, { bores, exchange }: BoresInHand, cutting: Cutting): Deed[] {
  const choice = new Map(
    chooseLifters({
      ...exchange,
      rules,
      style,
      objectives: PLAN_OBJECTIVES,
      ways: (bore, lifter) => (lifter === null ? [] : waysFor(handOf(bores, bore), lifter, cutting)),
    }).map(({ bore, way }) => [bore, way]),
  );
  return bores.map((hand) => choice.get(hand.bore.name) ?? alone(hand, cutting));
}

/** Every bore opened for the smallest larger body for which the fewest stay open; and for the one the user asks about. */
function bodyPlans({ fit }: RemedyInput, bores: readonly BoreInHand[], ownBody: Nm | null): BlockPlan[] {
  const planFor = (body: Nm): BlockPlan => ({
    name: `larger body for the whole block, ${diameterText(body)}`,
    wholeBlock: true,
    deeds: bores.map((hand): Deed => {
      const option = bodyOption(hand, body);
      const { verdict } = hand.finding;
      const open = verdict === "too tight" || verdict === "too loose" ? verdict : "undecided";
      return option.possible
        ? { bore: hand.bore.name, option, moves: false, open: null, near: false }
        : { bore: hand.bore.name, option: leaveOption(hand), moves: false, open, near: false };
    }),
  });
  const openIn = (plan: BlockPlan) => plan.deeds.filter(({ open }) => open !== null).length;
  const standard = largerBodies(fit.nominalLifterNm).map(planFor);
  const [next] = [...standard].sort((a, b) => openIn(a) - openIn(b));
  const own = ownBody === null ? [] : [planFor(ownBody)];
  return [...(next === undefined ? [] : [next]), ...own.filter(({ name }) => name !== next?.name)];
}

function handOf(bores: readonly BoreInHand[], name: string): BoreInHand {
  const hand = bores.find(({ bore }) => bore.name === name);
  if (hand === undefined) throw new RangeError(`bore ${name} is not measured`);
  return hand;
}
