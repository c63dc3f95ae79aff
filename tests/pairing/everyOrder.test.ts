import { expect, test } from "vitest";
import { isBefore } from "./everyChoice.ts";
import { everyOrder, type Order, worthInWords } from "./everyOrder.ts";
import { pairedOrder } from "./pairedOrder.ts";
import { type RandomBlock, randomBlock } from "./randomBlocks.ts";

/** Cases by seed, from 1 on. */
const CASES = 1200;

interface Tried {
  readonly order: Order;
  /** How many orders keep the rules. */
  readonly count: number;
}

function bestByTrying(block: RandomBlock): Tried | null {
  const worthOf = worthInWords(block);
  let order: Order | null = null;
  let worth: readonly number[] = [];
  let count = 0;
  everyOrder(block, (next) => {
    count += 1;
    const nextWorth = worthOf(next);
    if (order !== null && !isBefore(nextWorth, worth)) return;
    order = [...next];
    worth = nextWorth;
  });
  return order === null ? null : { order, count };
}

test("the order of the lifters is the best in every aim, in order, and the first in walking order among equals", () => {
  const seen = { fourBoresOrMore: 0, clashes: 0, eightBores: 0, pairs: 0, spares: 0, several: 0, choice: 0 };
  for (let seed = 1; seed <= CASES; seed += 1) {
    const block = randomBlock(seed);
    const tried = bestByTrying(block);
    expect(pairedOrder(block), `seed ${seed}`).toEqual(tried?.order ?? null);
    if (tried === null) {
      seen.clashes += 1;
      continue;
    }
    if (block.bores.length >= 4) seen.fourBoresOrMore += 1;
    if (block.bores.length === 8) seen.eightBores += 1;
    if (block.lifters.some((lifter) => block.rules[lifter]?.pairedWith !== undefined)) seen.pairs += 1;
    if (block.lifters.includes("S1")) seen.spares += 1;
    if (block.bores.some(({ name }) => name === "1I2")) seen.several += 1;
    if (tried.count > 20) seen.choice += 1;
  }
  // The cases are worth trying: enough of each kind, and enough to choose from.
  for (const count of Object.values(seen)) expect(count, JSON.stringify(seen)).toBeGreaterThan(100);
  expect(seen.fourBoresOrMore).toBeGreaterThan(500);
});
