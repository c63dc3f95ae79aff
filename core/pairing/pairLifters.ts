import type { Bore } from "../block/layout.ts";
import type { Limits } from "../fit/finding.ts";
import type { LifterFit } from "../fit/lifterFits.ts";
import { chooseLifters, type LifterChoice } from "./chooseLifters.ts";
import type { Objective } from "./lexicographicAssignment.ts";
import type { FaceStyle, LifterRules } from "./lifterRule.ts";
import { doubledDeviation } from "./pairingTarget.ts";

/** How good an order is, in the order in which the aims count. */
export interface OrderWorth {
  /** Bores inside the limits, by the rule; more is better. */
  readonly fits: number;
  /** Bores in the preferred band; more is better. */
  readonly preferred: number;
  /** Twice the largest deviation, nm, not negative. */
  readonly doubledWorst: number;
  /** Four times the sum of the squared deviations, nm². */
  readonly fourfoldSquares: number;
  /** Lifters that leave the bore they were measured for. */
  readonly moved: number;
}

/** Of the costs below, in the same order. */
export const PAIRING_OBJECTIVES: readonly Objective[] = ["sum", "sum", "largest", "sum", "sum"];

/** What a lifter in a bore costs in each aim of the pairing: exact integers. */
export function pairingCosts(bore: string, lifter: string, fit: LifterFit, limits: Limits): readonly number[] {
  const doubled = doubledDeviation(fit, limits);
  return [
    fit.verdict === "fits" ? 0 : 1,
    fit.preferred ? 0 : 1,
    Math.abs(doubled),
    doubled * doubled,
    lifter === bore ? 0 : 1,
  ];
}

/** What an order is worth. */
export function orderWorth(
  order: readonly { readonly bore: string; readonly lifter: string; readonly fit: LifterFit }[],
  limits: Limits,
): OrderWorth {
  const costs = order.map(({ bore, lifter, fit }) => pairingCosts(bore, lifter, fit, limits));
  const sum = (index: number) => costs.reduce((total, cost) => total + (cost[index] as number), 0);
  return {
    fits: order.length - sum(0),
    preferred: order.length - sum(1),
    doubledWorst: Math.max(0, ...costs.map((cost) => cost[2] as number)),
    fourfoldSquares: sum(3),
    moved: sum(4),
  };
}

/**
 * The lifter for every bore: most bores inside their limits by the job's rule, then most in the preferred band, then
 * the smallest largest deviation, then the smallest sum of squared deviations, then the fewest lifters that leave their
 * own bore, then the first in walking order. Exact; with 64 bores and lifters deviations may be up to 2.9 mm.
 * @throws PairingError "clash" when the rules can not be kept together.
 * @throws RangeError where a deviation is too large for exact sums.
 */
export function pairLifters(request: {
  /** In walking order. */
  readonly bores: readonly Bore[];
  /** In the order they were measured. */
  readonly lifters: readonly string[];
  readonly rules: LifterRules;
  readonly style: FaceStyle;
  readonly limits: Limits;
  readonly fitOf: (bore: string, lifter: string) => LifterFit;
}): LifterChoice<LifterFit>[] {
  const { limits, fitOf, ...about } = request;
  return chooseLifters({
    ...about,
    objectives: PAIRING_OBJECTIVES,
    ways: (bore, lifter) => {
      if (lifter === null) return [];
      const fit = fitOf(bore, lifter);
      return [{ costs: pairingCosts(bore, lifter, fit, limits), is: fit }];
    },
  });
}
