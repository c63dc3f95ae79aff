/** A cheapest assignment of every row of a square table to a column of its own, and the prices that prove it. */
export interface MinimumCost {
  /** Row of each column. */
  readonly rowOf: Int32Array;
  /**
   * Prices of rows and columns: cost(i, j) ≥ row[i] + column[j] everywhere, with equality in the cells of an assignment
   * if and only if that assignment is a cheapest one.
   */
  readonly row: Float64Array;
  readonly column: Float64Array;
}

/**
 * The assignment problem by shortest augmenting paths with dual prices: the Hungarian method in the form of Jonker and
 * Volgenant (Computing 38, 1987, 325–340; from memory), O(n³).
 *
 * The prices are why this is written here: they mark every cheapest assignment at once, not only the one found
 * (complementary slackness), so that a next objective may choose among exactly those.
 *
 * `cost` holds n × n entries, row by row: integers from 0 to M, or Infinity for a cell that must not be used. All
 * arithmetic is exact while M·(4n + 4) ≤ 2⁵³: a price is the length of an alternating path, of at most 2n costs.
 * @returns null if some row can not have a column of its own.
 */
export function minimumCost(cost: Float64Array, n: number): MinimumCost | null {
  const row = new Float64Array(n);
  const column = new Float64Array(n);
  const rowOf = new Int32Array(n).fill(-1);
  const slack = new Float64Array(n);
  const from = new Int32Array(n);
  const seen = new Uint8Array(n);
  const path = new Int32Array(n);
  for (let start = 0; start < n; start += 1) {
    slack.fill(Number.POSITIVE_INFINITY);
    seen.fill(0);
    // Columns in the order they join the tree; each but the last is taken, and its row with it.
    let length = 0;
    let lastRow = start;
    let lastColumn = -1;
    let distance = 0;
    for (;;) {
      const base = lastRow * n;
      const price = row[lastRow] as number;
      let nearest = Number.POSITIVE_INFINITY;
      let next = -1;
      for (let j = 0; j < n; j += 1) {
        if (seen[j] === 1) continue;
        const reached = distance + (cost[base + j] as number) - price - (column[j] as number);
        if (reached < (slack[j] as number)) {
          slack[j] = reached;
          from[j] = lastColumn;
        }
        if ((slack[j] as number) < nearest) {
          nearest = slack[j] as number;
          next = j;
        }
      }
      if (next === -1) return null;
      distance = nearest;
      lastColumn = next;
      if (rowOf[next] === -1) break;
      seen[next] = 1;
      path[length] = next;
      length += 1;
      lastRow = rowOf[next] as number;
    }
    row[start] = (row[start] as number) + distance;
    for (let step = 0; step < length; step += 1) {
      const j = path[step] as number;
      const change = distance - (slack[j] as number);
      const i = rowOf[j] as number;
      row[i] = (row[i] as number) + change;
      column[j] = (column[j] as number) - change;
    }
    for (let j = lastColumn; j !== -1; ) {
      const before = from[j] as number;
      rowOf[j] = before === -1 ? start : (rowOf[before] as number);
      j = before;
    }
  }
  return { rowOf, row, column };
}
