import { linearSumAssignment } from "linear-sum-assignment";
import munkres from "munkres";
import { describe, expect, test } from "vitest";
import { lexicographicAssignment, type Option } from "../../core/pairing/lexicographicAssignment.ts";
import { Chance } from "../sweep/rocking.ts";

const NONE = Number.POSITIVE_INFINITY;

/** Rows of costs as options: a cell without end to its cost is no option. */
function optionsOf(costs: readonly (readonly number[])[]): Option[][] {
  return costs.map((row) =>
    row.flatMap((cost, column): Option[] => (cost === NONE ? [] : [{ column, costs: [cost] }])),
  );
}

/** Column of every row and the sum; null when there is no assignment. */
function assign(costs: readonly (readonly number[])[]): { readonly columns: number[]; readonly sum: number } | null {
  const rows = optionsOf(costs);
  const chosen = lexicographicAssignment(rows, costs[0]?.length ?? 0, ["sum"]);
  if (chosen === null) return null;
  const columns = chosen.map((index, row) => rows[row]?.[index]?.column ?? Number.NaN);
  return { columns, sum: columns.reduce((sum, column, row) => sum + (costs[row]?.[column] ?? Number.NaN), 0) };
}

describe("published assignments (documentation and tests of a general numerical library; read)", () => {
  test("4 1 3 / 2 0 5 / 3 2 2: smallest sum 5 in columns 1, 0, 2", () => {
    expect(
      assign([
        [4, 1, 3],
        [2, 0, 5],
        [3, 2, 2],
      ]),
    ).toEqual({ columns: [1, 0, 2], sum: 5 });
  });

  test("400 150 400 / 400 450 600 / 300 225 300: 850", () => {
    expect(
      assign([
        [400, 150, 400],
        [400, 450, 600],
        [300, 225, 300],
      ])?.sum,
    ).toBe(850);
  });

  test("10 10 8 / 9 8 1 / 9 7 4: 18", () => {
    expect(
      assign([
        [10, 10, 8],
        [9, 8, 1],
        [9, 7, 4],
      ])?.sum,
    ).toBe(18);
  });

  test("the same with every cell but three forbidden: 18", () => {
    expect(
      assign([
        [10, NONE, NONE],
        [NONE, NONE, 1],
        [NONE, 7, NONE],
      ]),
    ).toEqual({ columns: [0, 2, 1], sum: 18 });
  });

  test("a column that nothing may take: no assignment", () => {
    expect(
      assign([
        [NONE, 1, 2],
        [NONE, 3, 4],
        [NONE, 5, 6],
      ]),
    ).toBeNull();
  });
});

describe("the smallest sum is that of two general solvers (munkres 2.0.4, linear-sum-assignment 1.0.9)", () => {
  test("on square and on wide tables of random integers", () => {
    const chance = new Chance(20261125);
    for (let run = 0; run < 300; run += 1) {
      const height = 1 + Math.floor(chance.next() * 24);
      const width = height + Math.floor(chance.next() * 6);
      const span = 10 ** (1 + Math.floor(chance.next() * 8));
      const costs = Array.from({ length: height }, () =>
        Array.from({ length: width }, () => Math.floor(chance.between(-span, span))),
      );
      const sum = assign(costs)?.sum;
      const other = munkres(costs).reduce((total, [row, column]) => total + (costs[row]?.[column] ?? Number.NaN), 0);
      expect(sum, `run ${run}`).toBe(other);
      if (height === width) expect(sum, `run ${run}`).toBe(linearSumAssignment(costs, { maximaze: false }).gain);
    }
  });

  test("on several sums in order, told to the general solver as one sum of long integers", () => {
    const chance = new Chance(7);
    for (let run = 0; run < 100; run += 1) {
      const size = 2 + Math.floor(chance.next() * 15);
      const rows = Array.from({ length: size }, () =>
        Array.from(
          { length: size },
          (_, column): Option => ({ column, costs: [2, 3, 1e9, 2].map((span) => Math.floor(chance.next() * span)) }),
        ),
      );
      const long = rows.map((row) =>
        row.map(({ costs }) => costs.reduce((sum, cost) => sum * 10n ** 12n + BigInt(cost), 0n)),
      );
      const chosen = lexicographicAssignment(rows, size, ["sum", "sum", "sum", "sum"]) ?? [];
      const sumOf = (pairs: Iterable<readonly [number, number]>) =>
        [...pairs].reduce((sum, [row, column]) => sum + (long[row]?.[column] ?? 0n), 0n);
      expect(sumOf(chosen.map((column, row) => [row, column] as const)), `run ${run}`).toBe(sumOf(munkres(long)));
    }
  });
});
