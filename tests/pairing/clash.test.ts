import { describe, expect, test } from "vitest";
import { layoutById } from "../../core/block/layouts.ts";
import { chooseLifters } from "../../core/pairing/chooseLifters.ts";
import type { LifterRules } from "../../core/pairing/lifterRule.ts";
import { PairingError } from "../../core/pairing/pairingError.ts";
import { pairLifters } from "../../core/pairing/pairLifters.ts";
import { pairedOrder } from "./pairedOrder.ts";
import { randomBlock } from "./randomBlocks.ts";

const FOUR = layoutById("i4-turns").bores;

/** Why the eight lifters of an inline four (and some spare ones) can not be placed. */
function clashOf(
  rules: LifterRules,
  style: "flat" | "roller" = "roller",
  spares: readonly string[] = [],
): PairingError {
  try {
    chooseLifters({
      bores: FOUR,
      lifters: [...FOUR.map(({ name }) => name), ...spares],
      rules,
      style,
      objectives: [],
      ways: (_bore, lifter) => (lifter === null ? [] : [{ costs: [], is: null }]),
    });
  } catch (error) {
    if (error instanceof PairingError) return error;
    throw error;
  }
  throw new Error("these rules do not clash");
}

describe("a clash of rules is named", () => {
  test("two lifters pinned to one bore", () => {
    const { message, lifters, bores } = clashOf({
      "1I": { pinned: "3E" },
      "2E": { pinned: "3E" },
      "4I": { keptFrom: ["1I"] },
    });
    expect(message).toBe(
      "No order of the lifters keeps all of this: lifter 1I is pinned to bore 3E; lifter 2E is pinned to bore 3E. Then no lifter is left for bore 3E. Change one of these.",
    );
    expect(lifters).toEqual(["1I", "2E"]);
    expect(bores).toEqual(["3E"]);
  });

  test("a used flat-faced lifter pinned to another bore", () => {
    expect(clashOf({ "1I": { used: true, pinned: "2I" } }, "flat").message).toBe(
      "No order of the lifters keeps all of this: lifter 1I is used and flat-faced, so it stays in bore 1I; lifter 1I is pinned to bore 2I. Then no lifter is left for bore 2I. Change one of these.",
    );
  });

  test("a used flat-faced lifter kept from its own bore; a used roller lifter is free to move", () => {
    const rules = { "1I": { used: true, keptFrom: ["1I"] } };
    expect(clashOf(rules, "flat").message).toMatch(
      /used and flat-faced, so it stays in bore 1I; lifter 1I is kept from bore 1I\./,
    );
    expect(() => clashOf(rules, "roller")).toThrow("these rules do not clash");
  });

  test("a lifter kept from every bore is told from the lifter's side, in one breath", () => {
    const { message } = clashOf({ "2I": { keptFrom: FOUR.map(({ name }) => name) } });
    expect(message).toBe(
      "No order of the lifters keeps all of this: lifter 2I is kept from bores 1I, 1E, 2I, 2E, 3I, 3E, 4I, 4E. Then no bore is left for lifter 2I. Change one of these.",
    );
    expect(() =>
      clashOf({ "2I": { keptFrom: FOUR.map(({ name }) => name) }, S1: { spare: true } }, "roller", ["S1"]),
    ).toThrow("these rules do not clash");
  });

  test("three lifters for two bores", () => {
    const elsewhere = FOUR.map(({ name }) => name).filter((name) => name !== "1I" && name !== "1E");
    const { message, lifters } = clashOf({
      "1I": { keptFrom: elsewhere },
      "2I": { keptFrom: elsewhere },
      "3I": { keptFrom: elsewhere },
      "4I": { keptFrom: ["1I"] },
    });
    expect(message).toMatch(/lifters 1I, 2I, 3I have only bores 1I, 1E\. Change one of these\.$/);
    expect(message).not.toContain("4I is kept");
    expect(lifters).toEqual(["1I", "2I", "3I"]);
  });

  test("the two ends of a tie bar pinned to two cylinders", () => {
    const { message } = clashOf({
      "1I": { pairedWith: "1E", pinned: "2I" },
      "1E": { pairedWith: "1I", pinned: "3E" },
      "2I": { pairedWith: "2E" },
      "2E": { pairedWith: "2I" },
      "3I": { pairedWith: "3E" },
      "3E": { pairedWith: "3I" },
    });
    expect(message).toContain("lifter 1I is pinned to bore 2I");
    expect(message).toContain("lifter 1E is pinned to bore 3E");
    expect(message).toContain("lifters 1I and 1E hang on one tie bar and go together");
  });

  test("a pair pinned so that it would have to be turned round, until it may be", () => {
    const tied = {
      "1I": { pairedWith: "1E", pinned: "2E" },
      "1E": { pairedWith: "1I" },
      "2I": { pairedWith: "2E" },
      "2E": { pairedWith: "2I" },
    };
    expect(clashOf(tied).message).toContain("lifters 1I and 1E hang on one tie bar that may not be turned round");
    expect(() => clashOf({ ...tied, "1E": { pairedWith: "1I", mayTurn: true } })).toThrow("these rules do not clash");
  });

  test("one of a pair pinned to a bore whose own lifter has no tie bar", () => {
    const { message } = clashOf({ "1I": { pairedWith: "1E", pinned: "2I" }, "1E": { pairedWith: "1I" } });
    expect(message).toBe(
      "No order of the lifters keeps all of this: lifter 1I is pinned to bore 2I; lifters 1I and 1E hang on one tie bar and go together, to bores whose own lifters are such a pair. Then no lifter is left for bore 2I. Change one of these.",
    );
  });

  test("only what clashes is named, and it clashes by itself", () => {
    let clashes = 0;
    for (let seed = 1; seed <= 400; seed += 1) {
      const block = randomBlock(seed);
      if (pairedOrder(block) !== null) continue;
      clashes += 1;
      try {
        pairLifters(block);
      } catch (error) {
        if (!(error instanceof PairingError)) throw error;
        expect(error.message).toMatch(
          /^No order of the lifters keeps all of this: .*\. Then .* (left for|only) .*\. Change one of these\.$/,
        );
        const bare = (lifter: string) => {
          const { pairedWith, mayTurn, spare } = block.rules[lifter] ?? {};
          return {
            ...(pairedWith === undefined ? {} : { pairedWith }),
            ...(mayTurn ? { mayTurn } : {}),
            ...(spare ? { spare } : {}),
          };
        };
        const { lifters } = error;
        const rules = Object.fromEntries(
          Object.keys(block.rules).map((lifter) => [
            lifter,
            lifters.includes(lifter) ? (block.rules[lifter] ?? {}) : bare(lifter),
          ]),
        );
        expect(pairedOrder({ ...block, rules }), `seed ${seed}: ${error.message}`).toBeNull();
      }
    }
    expect(clashes).toBeGreaterThan(40);
  });
});
