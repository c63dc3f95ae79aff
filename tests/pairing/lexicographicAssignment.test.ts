import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { lexicographicAssignment, type Objective, type Option } from "../../core/pairing/lexicographicAssignment.ts";
import { bestByTrying, worthOf } from "./everyChoice.ts";

/** Few different costs, so that ties are common and every later objective has something to decide. */
const problems = fc
  .record({
    rows: fc.integer({ min: 0, max: 7 }),
    columns: fc.integer({ min: 3, max: 8 }),
    span: fc.constantFrom(1, 2, 5, 100),
    objectives: fc.array(fc.constantFrom<Objective>("sum", "largest"), { minLength: 1, maxLength: 4 }),
    free: fc.boolean(),
    density: fc.constantFrom(0.4, 0.7, 1),
  })
  .chain(({ rows, columns, span, objectives, free, density }) => {
    const costs = fc.array(fc.integer({ min: -span, max: span }), {
      minLength: objectives.length,
      maxLength: objectives.length,
    });
    const option = fc.record({
      column: fc.integer({ min: free ? -1 : 0, max: Math.max(columns - 1, free ? -1 : 0) }),
      costs,
    });
    const most = Math.ceil(density * 8);
    return fc.record({
      rows: fc.array(
        fc
          .array(option, { minLength: 2, maxLength: most })
          .map((options) =>
            options
              .filter(({ column }) => column < columns)
              .map(({ column, costs }): Option => ({ column: column === -1 ? null : column, costs })),
          ),
        { minLength: rows, maxLength: rows },
      ),
      columns: fc.constant(columns),
      objectives: fc.constant(objectives),
    });
  });

describe("the best choice in every objective, one after the other", () => {
  test("is the one found by trying every choice, down to the order among equals", () => {
    let served = 0;
    fc.assert(
      fc.property(problems, ({ rows, columns, objectives }) => {
        const best = bestByTrying(rows, objectives);
        if (best !== null && rows.length > 1) served += 1;
        expect(lexicographicAssignment(rows, columns, objectives)).toEqual(best?.choice ?? null);
      }),
      { seed: 20261125, numRuns: 2000 },
    );
    expect(served).toBeGreaterThan(500);
  });

  test("does not change when every option of a row costs the same more", () => {
    fc.assert(
      fc.property(
        problems,
        fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 6, maxLength: 6 }),
        (given, more) => {
          const { rows, columns } = given;
          const dearer = rows.map((options, row) =>
            options.map(({ column, costs }) => ({ column, costs: costs.map((cost) => cost + (more[row] ?? 0)) })),
          );
          const sums = given.objectives.map(() => "sum" as const);
          expect(lexicographicAssignment(dearer, columns, sums)).toEqual(lexicographicAssignment(rows, columns, sums));
        },
      ),
      { seed: 20261125, numRuns: 500 },
    );
  });

  test("is worth the same in whatever order rows and columns are given", () => {
    fc.assert(
      fc.property(problems, ({ rows, columns, objectives }) => {
        const turned = rows.map((options) =>
          options.map(({ column, costs }) => ({ column: column === null ? null : columns - 1 - column, costs })),
        );
        turned.reverse();
        const one = lexicographicAssignment(rows, columns, objectives);
        const other = lexicographicAssignment(turned, columns, objectives);
        expect(other === null).toBe(one === null);
        if (one === null || other === null) return;
        expect(worthOf(turned, other, objectives)).toEqual(worthOf(rows, one, objectives));
      }),
      { seed: 20261125, numRuns: 500 },
    );
  });
});

describe("exact where plain decimals would not be", () => {
  test("one square nanometre decides between sums of many trillions", () => {
    const far = 3_000_000 ** 2;
    const rows = [
      [
        { column: 0, costs: [far] },
        { column: 1, costs: [far] },
      ],
      [
        { column: 0, costs: [far - 1] },
        { column: 1, costs: [far] },
      ],
    ];
    expect(lexicographicAssignment(rows, 2, ["sum"])).toEqual([1, 0]);
  });

  test("costs too far apart are refused, not rounded", () => {
    const rows = [
      [
        { column: 0, costs: [0] },
        { column: 1, costs: [2 ** 52] },
      ],
    ];
    expect(() => lexicographicAssignment(rows, 2, ["sum"])).toThrow(/expected a range/);
    expect(lexicographicAssignment(rows, 2, ["largest"])).toEqual([0]);
  });
});

describe("what makes no sense is refused", () => {
  test.each([
    [[[{ column: 2, costs: [0] }]], /takes column 2; expected one of 2 columns/],
    [[[{ column: 0, costs: [] }]], /expected 1 finite numbers/],
    [[[{ column: 0, costs: [Number.NaN] }]], /expected 1 finite numbers/],
    [[[{ column: 0, costs: [0.5] }]], /expected an integer/],
  ])("%j", (rows, says) => {
    expect(() => lexicographicAssignment(rows, 2, ["sum"])).toThrow(says);
  });

  test("more rows than columns can not be served, unless some take none", () => {
    const one = [{ column: 0, costs: [0] }];
    expect(lexicographicAssignment([one, one], 1, ["sum"])).toBeNull();
    expect(lexicographicAssignment([one, [...one, { column: null, costs: [5] }]], 1, ["sum"])).toEqual([0, 1]);
    expect(lexicographicAssignment([], 0, ["sum", "largest"])).toEqual([]);
  });
});
