import { type FaceStyle, type LifterRules, mustGoTo } from "./lifterRule.ts";
import type { Seating, Unit } from "./places.ts";

/** One thing that the pairing must respect. */
export interface Constraint {
  /** In words, a sentence without its full stop. */
  readonly text: string;
  readonly lifters: readonly string[];
  forbids(seating: Seating): boolean;
}

/** Every constraint that the rules put on where the units may go; tie bars are in the units already. */
export function constraintsOf(units: readonly Unit[], rules: LifterRules, style: FaceStyle): Constraint[] {
  const constraints: Constraint[] = [];
  for (const { lifters } of units) {
    for (const lifter of lifters) {
      const rule = rules[lifter];
      for (const { bore, why } of mustGoTo(lifter, rules, style)) {
        constraints.push({
          text: `lifter ${lifter} ${why}`,
          lifters: [lifter],
          forbids: ({ placements }) => placements.some((at) => (at.bore === bore) !== (at.lifter === lifter)),
        });
      }
      if (rule?.used === true && style === "flat" && rule.spare === true) {
        constraints.push({
          text: `lifter ${lifter} is used, flat-faced and spare, so it has no bore to go to`,
          lifters: [lifter],
          forbids: ({ placements }) => placements.some((at) => at.lifter === lifter),
        });
      }
      const kept = rule?.keptFrom ?? [];
      for (const bore of new Set(kept)) {
        constraints.push({
          text: `lifter ${lifter} is kept from bore ${bore}`,
          lifters: [lifter],
          forbids: ({ placements }) => placements.some((at) => at.bore === bore && at.lifter === lifter),
        });
      }
    }
    if (lifters.length > 1 && !lifters.some((lifter) => rules[lifter]?.mayTurn === true)) {
      constraints.push({
        text: `lifters ${lifters.join(" and ")} hang on one tie bar that may not be turned round`,
        lifters,
        forbids: ({ turned, placements }) => turned && placements.some((at) => lifters.includes(at.lifter)),
      });
    }
  }
  return constraints;
}
