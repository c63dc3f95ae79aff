import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Limits } from "../../core/fit/finding.ts";
import { toNm } from "../../core/length/nm.ts";
import { type BlockPlan, figuresOf } from "../../core/remedy/blockPlans.ts";
import { boresInHand, type RemedyInput } from "../../core/remedy/boresInHand.ts";
import { remedyFor } from "../../core/remedy/remedy.ts";
import type { RemedyOption } from "../../core/remedy/remedyOption.ts";
import { PLAN_OBJECTIVES, waysFor } from "../../core/remedy/ways.ts";
import { inwards, nearest } from "../../core/report/sheetLength.ts";
import { PLAIN_LIMITS, type PlainBlock, plainBlock } from "./plainBlock.ts";

const SEED = 20261125;
/** Hundreds of whole remedies each. */
const LONG_MS = 60_000;
const NAMES = ["1I", "1E", "2I", "2E"];
const LIFTER = 21_384_000;

/** Small blocks of every kind: tight, loose, tapered, far out; own lifters or some without. */
const blocks = fc.record({
  bores: fc
    .array(
      fc.record({
        middle: fc.oneof(
          fc.integer({ min: 24_000, max: 58_000 }),
          fc.integer({ min: 36_000, max: 45_000 }),
          fc.integer({ min: 60_000, max: 160_000 }),
        ),
        taper: fc.integer({ min: -4_000, max: 4_000 }),
        lifter: fc.integer({ min: -5_000, max: 5_000 }),
      }),
      { minLength: 2, maxLength: 4 },
    )
    .map((drawn) =>
      drawn.map(({ middle, taper, lifter }, index) => ({
        name: NAMES[index] as string,
        readings: [middle, middle + taper],
        // Readings are over the first lifter, which is the reference.
        lifterNm: LIFTER + (index === 0 ? 0 : lifter),
      })),
    ),
  transferNm: fc.integer({ min: 0, max: 2_500 }),
  micrometerNm: fc.integer({ min: 0, max: 3_000 }),
  rule: fc.constantFrom("guarded" as const, "simple" as const),
});

const possibleOf = (input: RemedyInput) =>
  remedyFor(input).bores.flatMap(({ finding, options }) =>
    options
      .filter(({ possible, kind }) => possible && kind !== "pair")
      .map(({ kind, lifterNm, lifter }) => `${finding.name} ${kind} ${lifter ?? lifterNm}`),
  );
/** Other lifters by bore: which is the best may change, that there is one may not. */
const pairable = (input: RemedyInput) =>
  remedyFor(input).bores.flatMap(({ finding, options }) =>
    options.some(({ kind, possible }) => kind === "pair" && possible) ? [finding.name] : [],
  );

const optionsOf = (input: RemedyInput): readonly RemedyOption[] =>
  remedyFor(input).bores.flatMap(({ options }) => options);

describe("options", () => {
  test(
    "are never lost by wider limits",
    () => {
      fc.assert(
        fc.property(
          blocks,
          fc.integer({ min: 0, max: 15_000 }),
          fc.integer({ min: 0, max: 15_000 }),
          (block, below, above) => {
            const wide: Partial<Limits> = {
              lowNm: toNm(PLAIN_LIMITS.lowNm - below),
              highNm: toNm(PLAIN_LIMITS.highNm + above),
            };
            // What the plan takes is put into the list too; a hone for another lifter is no option by itself.
            const own = (found: string[]) => found.filter((each) => !/ (hone|bush) /.test(each) || ownLifter(each));
            expect(own(possibleOf(plainBlock({ ...block, limits: wide })))).toEqual(
              expect.arrayContaining(own(possibleOf(plainBlock(block)))),
            );
            expect(pairable(plainBlock({ ...block, limits: wide }))).toEqual(
              expect.arrayContaining(pairable(plainBlock(block))),
            );
          },
        ),
        { seed: SEED, numRuns: 150 },
      );
    },
    LONG_MS,
  );

  test(
    "are never won by a larger uncertainty",
    () => {
      fc.assert(
        fc.property(
          blocks,
          fc.integer({ min: 0, max: 2_000 }),
          fc.integer({ min: 0, max: 2_000 }),
          (block, transfer, micrometer) => {
            const worse = {
              ...block,
              transferNm: block.transferNm + transfer,
              micrometerNm: block.micrometerNm + micrometer,
            };
            const own = (found: string[]) => found.filter((each) => !/ (hone|bush) /.test(each) || ownLifter(each));
            expect(own(possibleOf(plainBlock(block)))).toEqual(
              expect.arrayContaining(own(possibleOf(plainBlock(worse)))),
            );
          },
        ),
        { seed: SEED, numRuns: 150 },
      );
    },
    LONG_MS,
  );

  test(
    "end inside the limits, above what is there, and leave no more to remove than they may",
    () => {
      fc.assert(
        fc.property(blocks, (block) => {
          const input = plainBlock(block);
          const { lowNm, highNm } = input.fit.limits;
          for (const { finding, bore, options } of remedyFor(input, toNm(21_900_000)).bores) {
            expect(options.length).toBeGreaterThanOrEqual(5);
            for (const option of options.filter(({ possible }) => possible)) {
              const { kind, finishLowNm, finishHighNm, clearanceLowNm, clearanceHighNm, removeNm, removeAtLargestNm } =
                option;
              expect(clearanceLowNm).toBeGreaterThanOrEqual(lowNm);
              expect(clearanceHighNm).toBeLessThanOrEqual(highNm);
              if (kind === "leave" || kind === "pair") {
                expect([finishLowNm, finishHighNm, removeNm]).toEqual([null, null, 0]);
                continue;
              }
              expect((finishHighNm as number) - (finishLowNm as number)).toBeGreaterThanOrEqual(2_540);
              expect((finishLowNm as number) - option.lifterNm).toBe(clearanceLowNm);
              expect((finishHighNm as number) - option.lifterNm).toBe(clearanceHighNm);
              if (kind === "bush") continue;
              expect(finishLowNm).toBeGreaterThanOrEqual(bore?.maxNm ?? Number.NaN);
              expect((bore?.minNm ?? 0) + removeNm).toBeLessThanOrEqual(finishHighNm as number);
              expect(removeNm - removeAtLargestNm).toBe((bore?.maxNm ?? 0) - (bore?.minNm ?? 0));
            }
            const leave = options.find(({ kind }) => kind === "leave");
            expect(leave?.possible).toBe(finding.verdict === "fits");
          }
        }),
        { seed: SEED, numRuns: 150 },
      );
    },
    LONG_MS,
  );

  test(
    "change by nothing but the sizes when bores and lifters are all larger by as much",
    () => {
      fc.assert(
        fc.property(blocks, fc.integer({ min: -40_000, max: 40_000 }), (block, byNm) => {
          const larger = {
            ...block,
            nominalNm: LIFTER + byNm,
            bores: block.bores.map((bore) => ({ ...bore, lifterNm: bore.lifterNm + byNm })),
          };
          const own = (options: readonly RemedyOption[], shift: number) =>
            options
              .filter(({ kind }) => kind !== "body")
              .map(({ lifterNm, finishLowNm, finishHighNm, why, ...rest }) => ({
                ...rest,
                lifterNm: lifterNm - shift,
                finishLowNm: finishLowNm === null ? null : finishLowNm - shift,
                finishHighNm: finishHighNm === null ? null : finishHighNm - shift,
              }));
          expect(own(optionsOf(plainBlock(larger)), byNm)).toEqual(own(optionsOf(plainBlock(block)), 0));
          const figures = (input: RemedyInput) =>
            remedyFor(input)
              .plans.filter(({ wholeBlock }) => !wholeBlock)
              .map(figuresOf);
          expect(figures(plainBlock(larger))).toEqual(figures(plainBlock(block)));
        }),
        { seed: SEED, numRuns: 100 },
      );
    },
    LONG_MS,
  );
});

/** Its present lifter, which every block here has. */
function ownLifter(found: string): boolean {
  const [bore, , lifter] = found.split(" ");
  return lifter === bore;
}

/** Every order of the lifters and every way in it: the smallest costs, one after the other. */
function bestByTrying(input: RemedyInput, cutting: ("hone" | "bush")[]): readonly number[] {
  const hands = boresInHand(input).bores;
  let best: readonly number[] | null = null;
  const smaller = (a: readonly number[], b: readonly number[]) => {
    const at = a.findIndex((cost, index) => cost !== b[index]);
    return at !== -1 && (a[at] as number) < (b[at] as number);
  };
  const go = (index: number, left: readonly string[], costs: readonly number[]): void => {
    const hand = hands[index];
    if (hand === undefined) {
      if (best === null || smaller(costs, best)) best = costs;
      return;
    }
    for (const lifter of left) {
      for (const way of waysFor(hand, lifter, cutting)) {
        const next = costs.map((cost, at) =>
          PLAN_OBJECTIVES[at] === "largest"
            ? Math.max(cost, way.costs[at] as number)
            : cost + (way.costs[at] as number),
        );
        go(
          index + 1,
          left.filter((other) => other !== lifter),
          next,
        );
      }
    }
  };
  go(
    0,
    hands.map(({ bore }) => bore.name),
    PLAN_OBJECTIVES.map(() => 0),
  );
  if (best === null) throw new Error("no order");
  return best;
}

/** What a plan costs, from its deeds alone. */
function costsOf(input: RemedyInput, plan: BlockPlan, cutting: ("hone" | "bush")[]): readonly number[] {
  const hands = boresInHand(input).bores;
  const chosen = plan.deeds.map((deed) => {
    const hand = hands.find(({ bore }) => bore.name === deed.bore);
    const lifter = deed.option.lifter;
    const ways = hand === undefined || lifter === null ? [] : waysFor(hand, lifter, cutting);
    const way = ways.find(({ is }) => is.option.kind === deed.option.kind && is.open === deed.open);
    if (way === undefined) throw new Error(`the plan does with ${deed.bore} what is no way`);
    return way.costs;
  });
  return PLAN_OBJECTIVES.map((objective, at) => {
    const costs = chosen.map((each) => each[at] as number);
    return objective === "largest" ? Math.max(...costs) : costs.reduce((sum, cost) => sum + cost, 0);
  });
}

describe("plans that pair and cut together", () => {
  test(
    "are the best there are, as trying every order and every way shows",
    () => {
      fc.assert(
        fc.property(blocks, (block) => {
          const input = plainBlock(block);
          const { plans } = remedyFor(input);
          const wanted: [string, ("hone" | "bush")[]][] = [
            ["pair and hone", ["hone"]],
            ["pair and hone, bush the rest", ["hone", "bush"]],
          ];
          for (const [name, cutting] of wanted) {
            const plan = plans.find((each) => each.name === name) as BlockPlan;
            expect(costsOf(input, plan, cutting)).toEqual(bestByTrying(input, cutting));
          }
        }),
        { seed: SEED, numRuns: 120 },
      );
    },
    LONG_MS,
  );

  test(
    "leave no fewer bores open than the plan that is taken",
    () => {
      fc.assert(
        fc.property(blocks as fc.Arbitrary<PlainBlock>, (block) => {
          const { plans, plan, open } = remedyFor(plainBlock(block));
          const taken = figuresOf(plan);
          expect(open).toHaveLength(taken.notFitting + taken.undecided);
          for (const other of plans) {
            const figures = figuresOf(other);
            expect(figures.notFitting).toBeGreaterThanOrEqual(taken.notFitting);
            if (other.wholeBlock || figures.notFitting > taken.notFitting) continue;
            expect(figures.undecided).toBeGreaterThanOrEqual(taken.undecided);
            if (figures.undecided > taken.undecided) continue;
            expect(figures.boresTouched).toBeGreaterThanOrEqual(taken.boresTouched);
          }
        }),
        { seed: SEED, numRuns: 150 },
      );
    },
    LONG_MS,
  );
});

describe("sizes on the sheet", () => {
  test(
    "are rounded into what is allowed, in every unit",
    () => {
      fc.assert(
        fc.property(
          fc.integer({ min: 20_000_000, max: 30_000_000 }),
          fc.integer({ min: 508, max: 20_000 }),
          (low, width) => {
            const { from, to } = inwards(low, low + width);
            for (const [lower, upper, unitNm] of [
              [from.inches, to.inches, 25_400_000],
              [from.mm, to.mm, 1_000_000],
            ] as const) {
              expect(Math.round(Number(lower) * unitNm)).toBeGreaterThanOrEqual(low);
              expect(Math.round(Number(upper) * unitNm)).toBeLessThanOrEqual(low + width);
              expect(Number(lower)).toBeLessThanOrEqual(Number(upper));
            }
            expect(from.tenths === null).toBe(to.tenths === null);
            if (from.tenths === null || to.tenths === null) {
              expect(width).toBeLessThan(2_540);
              return;
            }
            expect(Number(from.tenths)).toBeLessThanOrEqual(Number(to.tenths));
            expect(Math.round(Number(from.tenths) * 25_400_000)).toBeGreaterThanOrEqual(low);
            expect(Math.round(Number(to.tenths) * 25_400_000)).toBeLessThanOrEqual(low + width);
          },
        ),
        { seed: SEED, numRuns: 1_000 },
      );
    },
    LONG_MS,
  );

  test(
    "what is there is rounded to the nearest",
    () => {
      expect(nearest(21_386_800)).toEqual({ nm: 21_386_800, inches: "0.84200", tenths: "0.8420", mm: "21.3868" });
      expect(nearest(127).inches).toBe("0.00001");
    },
    LONG_MS,
  );
});
