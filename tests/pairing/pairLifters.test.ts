import { describe, expect, test } from "vitest";
import { orderWorth } from "../../core/pairing/pairLifters.ts";
import { isBefore } from "./everyChoice.ts";
import { worthInWords } from "./everyOrder.ts";
import { pairedOrder } from "./pairedOrder.ts";
import { randomBlock } from "./randomBlocks.ts";

const SEEDS = Array.from({ length: 300 }, (_, index) => index + 1);

describe("the order of the lifters", () => {
  test("is told what it is worth", () => {
    for (const seed of SEEDS.slice(0, 200)) {
      const block = randomBlock(seed);
      const order = pairedOrder(block);
      if (order === null) continue;
      const seats = order.map((index: number, at: number) => {
        const bore = block.bores[at]?.name ?? "";
        const lifter = block.lifters[index] ?? "";
        return { bore, lifter, fit: block.fitOf(bore, lifter) };
      });
      const worth = orderWorth(seats, block.limits);
      expect([
        seats.length - worth.fits,
        seats.length - worth.preferred,
        worth.doubledWorst,
        worth.fourfoldSquares,
        worth.moved,
      ]).toEqual(worthInWords(block)(order));
    }
  });

  test("does not change when the limits and every clearance shift together", () => {
    for (const seed of SEEDS.slice(0, 200)) {
      const block = randomBlock(seed);
      const order = pairedOrder(block);
      const wider = {
        ...block,
        limits: {
          ...block.limits,
          lowNm: (block.limits.lowNm + 700) as never,
          highNm: (block.limits.highNm + 700) as never,
          preferredLowNm: block.limits.preferredLowNm === null ? null : ((block.limits.preferredLowNm + 700) as never),
          preferredHighNm:
            block.limits.preferredHighNm === null ? null : ((block.limits.preferredHighNm + 700) as never),
        },
        fitOf: (bore: string, lifter: string) => {
          const fit = block.fitOf(bore, lifter);
          return {
            ...fit,
            clearanceMinNm: (fit.clearanceMinNm + 700) as never,
            clearanceMaxNm: (fit.clearanceMaxNm + 700) as never,
          };
        },
      };
      expect(pairedOrder(wider), `seed ${seed}`).toEqual(order);
    }
  });

  test("is never better for one rule more", () => {
    for (const seed of SEEDS.slice(0, 300)) {
      const block = randomBlock(seed);
      const order = pairedOrder(block);
      const lifter = block.lifters[seed % block.lifters.length] ?? "";
      const bore = block.bores[(seed * 7) % block.bores.length]?.name ?? "";
      const rule = block.rules[lifter] ?? {};
      const strict = {
        ...block,
        rules: { ...block.rules, [lifter]: { ...rule, keptFrom: [...(rule.keptFrom ?? []), bore] } },
      };
      const stricter = pairedOrder(strict);
      if (stricter === null) continue;
      expect(order, `seed ${seed}`).not.toBeNull();
      if (order !== null) expect(isBefore(worthInWords(block)(stricter), worthInWords(block)(order))).toBe(false);
    }
  });
});
