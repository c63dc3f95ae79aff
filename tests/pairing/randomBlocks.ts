import type { Bore, Valve } from "../../core/block/layout.ts";
import { buildLayout } from "../../core/block/parseLayout.ts";
import type { Limits } from "../../core/fit/finding.ts";
import type { LifterFit } from "../../core/fit/lifterFits.ts";
import { toNm } from "../../core/length/nm.ts";
import type { LifterRule, LifterRules } from "../../core/pairing/lifterRule.ts";
import { Chance } from "../sweep/rocking.ts";

/** Bores and lifters of invented sizes with rules for the lifters, small enough to try every order. */
export interface RandomBlock {
  /** In walking order, which is not that of the layout. */
  readonly bores: readonly Bore[];
  readonly lifters: readonly string[];
  readonly rules: LifterRules;
  readonly style: "flat" | "roller";
  readonly limits: Limits;
  readonly fitOf: (bore: string, lifter: string) => LifterFit;
}

/** Sizes lie on a coarse grid, so that orders equal in the first aims are common and the later ones decide. */
export function randomBlock(seed: number): RandomBlock {
  const chance = new Chance(seed);
  const pick = (count: number) => Math.floor(chance.next() * count);
  const often = (share: number) => chance.next() < share;
  const four: readonly Valve[] = ["I", "E", "E", "I"];
  const cylinders = often(0.4) ? [1, 2] : [1, 2, 3, 4].slice(0, often(0.15) ? 4 : 1 + pick(3));
  const several = cylinders.length === 2 && often(0.5);
  const layout = buildLayout({
    id: "own",
    title: "Own",
    firingOrder: cylinders,
    banks: [
      { name: "only", cylinders, bores: cylinders.flatMap(() => (several ? four : (["I", "E"] as readonly Valve[]))) },
    ],
  });
  const shuffled = <T>(list: readonly T[]) =>
    list
      .map((item) => ({ item, key: chance.next() }))
      .sort((a, b) => a.key - b.key)
      .map(({ item }) => item);
  const bores = shuffled(layout.bores);
  const style = often(0.6) ? ("roller" as const) : ("flat" as const);
  const rules: Record<string, LifterRule> = {};
  const add = (lifter: string, rule: LifterRule) => {
    rules[lifter] = { ...rules[lifter], ...rule };
  };
  const tie = (one: string, other: string) => {
    add(one, { pairedWith: other, ...(often(0.4) ? { mayTurn: true } : {}) });
    add(other, { pairedWith: one });
  };
  const tied = style === "roller" && often(0.7);
  if (tied) {
    for (const cylinder of cylinders) {
      const of = (valve: Valve) => layout.bores.filter((bore) => bore.cylinder === cylinder && bore.valve === valve);
      for (const [index, intake] of of("I").entries()) {
        const exhaust = of("E")[index];
        if (exhaust !== undefined && often(0.8)) tie(exhaust.name, intake.name);
      }
    }
  }
  const spares = Array.from({ length: bores.length > 6 ? Number(often(0.1)) : pick(3) }, (_, index) => `S${index + 1}`);
  for (const spare of spares) add(spare, { spare: true });
  if (tied && spares.length === 2 && often(0.7)) tie("S1", "S2");
  const lifters = [...bores.map(({ name }) => name), ...spares];
  const strict = often(0.5) ? 0.05 : 0.2;
  for (const lifter of lifters) {
    if (often(strict)) add(lifter, { used: true });
    if (often(strict / 2)) {
      const own = !lifter.startsWith("S") && often(0.5);
      add(lifter, { pinned: own ? true : (bores[pick(bores.length)]?.name ?? true) });
    }
    if (often(strict * 2)) {
      add(lifter, {
        keptFrom: shuffled(bores)
          .slice(0, 1 + pick(Math.max(1, bores.length / 2)))
          .map(({ name }) => name),
      });
    }
  }
  const grid = often(0.5) ? 1000 : 137;
  const size = () => toNm(Math.round(chance.normal() * 3) * grid);
  const boreNm = new Map(bores.map(({ name }) => [name, { low: size(), form: Math.abs(size()) }]));
  const lifterNm = new Map(lifters.map((name) => [name, size()]));
  const limits: Limits = {
    lowNm: toNm(36_000),
    highNm: toNm(44_001),
    preferredLowNm: often(0.7) ? toNm(38_500) : null,
    preferredHighNm: often(0.7) ? toNm(41_500) : null,
    serviceHighNm: null,
    source: "invented for this test",
  };
  return { bores, lifters, rules, style, limits, fitOf };

  function fitOf(bore: string, lifter: string): LifterFit {
    const { low, form } = boreNm.get(bore) as { low: number; form: number };
    const clearanceMinNm = toNm(40_000 + low - (lifterNm.get(lifter) as number));
    const clearanceMaxNm = toNm(clearanceMinNm + form);
    const [preferredLow, preferredHigh] = [limits.preferredLowNm ?? 38_667, limits.preferredHighNm ?? 41_334];
    const inside = clearanceMinNm >= limits.lowNm && clearanceMaxNm <= limits.highNm;
    const verdict = inside ? "fits" : clearanceMaxNm > limits.highNm ? "too loose" : "too tight";
    return {
      clearanceMinNm,
      clearanceMaxNm,
      verdict,
      preferred: clearanceMinNm >= preferredLow && clearanceMaxNm <= preferredHigh,
      confidence: 1,
      judgement: { verdict, tooTight: 0, tooLoose: 0, inside: 1, confidence: 1 },
      extremes: {
        smallest: { clearanceNm: clearanceMinNm, value: clearanceMinNm, u: 1, degreesOfFreedom: 100 },
        largest: { clearanceNm: clearanceMaxNm, value: clearanceMaxNm, u: 1, degreesOfFreedom: 100 },
      },
      stations: [],
    };
  }
}
