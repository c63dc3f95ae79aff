import type { Objective, Option } from "../../core/pairing/lexicographicAssignment.ts";

/** Every way to serve all rows, in the order in which the first row's earliest option comes first. */
export function* everyChoice(
  rows: readonly (readonly Option[])[],
  taken: ReadonlySet<number> = new Set(),
): Generator<number[]> {
  const [first, ...others] = rows;
  if (first === undefined) {
    yield [];
    return;
  }
  for (const [index, { column }] of first.entries()) {
    if (column !== null && taken.has(column)) continue;
    for (const rest of everyChoice(others, column === null ? taken : new Set([...taken, column]))) {
      yield [index, ...rest];
    }
  }
}

/** What a choice is worth in every objective. */
export function worthOf(
  rows: readonly (readonly Option[])[],
  choice: readonly number[],
  objectives: readonly Objective[],
): number[] {
  return objectives.map((objective, at) => {
    const costs = choice.map((index, row) => rows[row]?.[index]?.costs[at] ?? Number.NaN);
    return objective === "sum"
      ? costs.reduce((sum, cost) => sum + cost, 0)
      : Math.max(Number.NEGATIVE_INFINITY, ...costs);
  });
}

/** Whether the first list of numbers comes before the second: at the first place where they differ it is smaller. */
export function isBefore(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at !== -1 && (a[at] as number) < (b[at] as number);
}

/** The best choice by trying every one; the earliest of those that are equal. */
export function bestByTrying(
  rows: readonly (readonly Option[])[],
  objectives: readonly Objective[],
): { readonly choice: number[]; readonly worth: number[] } | null {
  let best: { choice: number[]; worth: number[] } | null = null;
  for (const choice of everyChoice(rows)) {
    const worth = worthOf(rows, choice, objectives);
    if (best === null || isBefore(worth, best.worth)) best = { choice, worth };
  }
  return best;
}
