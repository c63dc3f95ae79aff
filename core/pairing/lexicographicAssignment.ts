import { fullMatching } from "./fullMatching.ts";
import { minimumCost } from "./minimumCost.ts";

/** One way to serve a row. */
export interface Option {
  /** The column it takes, from 0, which no other row can then have; null for an option that takes none. */
  readonly column: number | null;
  /** What it costs, one number an objective, in their order; less is better, and negative numbers are allowed. */
  readonly costs: readonly number[];
}

/**
 * How the costs of the chosen options make one number that is to be as small as possible: their sum (integers), or the
 * largest of them (any finite numbers).
 */
export type Objective = "sum" | "largest";

/**
 * Chooses one option for every row so that no column is taken twice and the objectives, in their order, are as small as
 * can be: the first counts before the second, and so on. Among choices equal in all of them the first row takes the
 * earliest option in its list that is possible, then the second row, and so on. Exact, not greedy.
 *
 * Method (derived here): each objective leaves only those options that some choice best so far can use, and the next
 * objective chooses among these. After a "largest" these are the options up to the smallest bound that still serves
 * every row; after a "sum", those whose cost equals the sum of their prices (`minimumCost`), for by complementary
 * slackness the cheapest choices are exactly those that use no other. A row may have several options with the same
 * column. Every objective takes O(n³) (a "largest", with a logarithm), n the number of rows and columns together at
 * most.
 *
 * Bounds: costs of a "sum" are integers, and the range of those that are left when its turn comes, times (4n + 4), is
 * at most 2⁵³, so that plain numbers are exact: with 64 rows and columns, squared deviations of up to 5.9 mm in nm².
 * @param columns How many columns there are; it may be more or fewer than rows.
 * @returns for every row the index of its option; null if not every row can be served at once.
 * @throws RangeError for a column that is not there, for costs too few or not finite, and beyond the bounds above.
 */
export function lexicographicAssignment(
  rows: readonly (readonly Option[])[],
  columns: number,
  objectives: readonly Objective[],
): number[] | null {
  check(rows, columns, objectives);
  const table = new Table(rows, columns);
  let matching = fullMatching(table.allowed(), table.size);
  if (matching === null) return null;
  for (const [index, objective] of objectives.entries()) {
    matching = objective === "sum" ? table.keepCheapest(index) : table.keepSmallestBound(index, matching);
  }
  return table.firstInOrder(matching);
}

/** What is left of the options, as a square table: every row that is not there could take any column for nothing. */
class Table {
  readonly size: number;
  readonly #rows: readonly (readonly Option[])[];
  /** Column of each option. */
  readonly #columns: readonly (readonly number[])[];
  /** Which options are left, and which cells of the rows that are not there. */
  readonly #left: readonly boolean[][];
  readonly #idle: Uint8Array;

  constructor(rows: readonly (readonly Option[])[], columns: number) {
    let last = columns;
    // An option that takes no column has one to itself.
    this.#columns = rows.map((options) => {
      const own = options.some(({ column }) => column === null) ? last++ : -1;
      return options.map(({ column }) => column ?? own);
    });
    this.size = Math.max(last, rows.length);
    this.#rows = rows;
    this.#left = rows.map((options) => options.map(() => true));
    this.#idle = new Uint8Array((this.size - rows.length) * this.size).fill(1);
    // Columns that are not there serve nobody; with fewer columns than rows the rows can then not all be served.
  }

  /** Cells that some option left uses. */
  allowed(): Uint8Array {
    const n = this.size;
    const cells = new Uint8Array(n * n);
    this.#eachLeft((row, _index, column) => {
      cells[row * n + column] = 1;
    });
    cells.set(this.#idle, this.#rows.length * n);
    return cells;
  }

  /** Leaves only the options that a choice with the smallest sum can use. */
  keepCheapest(objective: number): Int32Array {
    const n = this.size;
    const [least, most] = this.#rangeOf(objective);
    if ((most - least) * (4 * n + 4) > Number.MAX_SAFE_INTEGER) {
      throw new RangeError(
        `costs of objective ${objective} lie between ${least} and ${most}; expected a range of at most 2^53 / ${4 * n + 4}`,
      );
    }
    const costs = new Float64Array(n * n).fill(Number.POSITIVE_INFINITY);
    this.#eachLeft((row, index, column) => {
      const cell = row * n + column;
      costs[cell] = Math.min(costs[cell] as number, this.#cost(row, index, objective) - least);
    });
    const first = this.#rows.length * n;
    for (let cell = 0; cell < this.#idle.length; cell += 1) if (this.#idle[cell] === 1) costs[first + cell] = 0;
    const solved = minimumCost(costs, n);
    if (solved === null) throw new Error("no assignment is left of those that there were");
    const price = (row: number, column: number) => (solved.row[row] as number) + (solved.column[column] as number);
    this.#eachLeft((row, index, column) => {
      if (this.#cost(row, index, objective) - least > price(row, column)) this.#drop(row, index);
    });
    for (let cell = 0; cell < this.#idle.length; cell += 1) {
      if (price(this.#rows.length + Math.floor(cell / n), cell % n) < 0) this.#idle[cell] = 0;
    }
    return solved.rowOf;
  }

  /** Leaves only the options up to the smallest bound that serves every row. */
  keepSmallestBound(objective: number, matching: Int32Array): Int32Array {
    const n = this.size;
    const costs = new Set<number>();
    this.#eachLeft((row, index) => costs.add(this.#cost(row, index, objective)));
    const bounds = Float64Array.from(costs).sort();
    let best = matching;
    let low = 0;
    let high = bounds.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      const bound = bounds[middle] as number;
      const cells = new Uint8Array(n * n);
      this.#eachLeft((row, index, column) => {
        if (this.#cost(row, index, objective) <= bound) cells[row * n + column] = 1;
      });
      cells.set(this.#idle, this.#rows.length * n);
      const found = fullMatching(cells, n, best);
      if (found === null) {
        low = middle + 1;
      } else {
        high = middle;
        best = found;
      }
    }
    const bound = bounds[low] ?? Number.POSITIVE_INFINITY;
    this.#eachLeft((row, index) => {
      if (this.#cost(row, index, objective) > bound) this.#drop(row, index);
    });
    return best;
  }

  /** The choice in which the first row has its earliest option left, then the second row, and so on. */
  firstInOrder(matching: Int32Array): number[] {
    const n = this.size;
    const cells = this.allowed();
    const rowOf = Int32Array.from(matching);
    const columnOf = new Int32Array(n);
    for (let column = 0; column < n; column += 1) columnOf[rowOf[column] as number] = column;
    const settled = new Uint8Array(n);
    const next = new Int32Array(n);
    const queue = new Int32Array(n);
    return this.#columns.map((columnsOf, row) => {
      const had = columnOf[row] as number;
      // From where can the others move up so that the column this row has is taken and another comes free?
      next.fill(-1);
      queue[0] = had;
      for (let head = 0, tail = 1; head < tail; head += 1) {
        const column = queue[head] as number;
        for (let other = 0; other < n; other += 1) {
          if (other === row || settled[other] === 1 || next[other] !== -1) continue;
          if (cells[other * n + column] === 0) continue;
          next[other] = column;
          queue[tail] = columnOf[other] as number;
          tail += 1;
        }
      }
      const chosen = columnsOf.findIndex(
        (column, index) =>
          this.#left[row]?.[index] === true && (column === had || next[rowOf[column] as number] !== -1),
      );
      const wanted = columnsOf[chosen] as number;
      for (let mover = row, column = wanted; ; ) {
        const owner = rowOf[column] as number;
        rowOf[column] = mover;
        columnOf[mover] = column;
        if (column === had) break;
        mover = owner;
        column = next[owner] as number;
      }
      settled[row] = 1;
      return chosen;
    });
  }

  #rangeOf(objective: number): readonly [number, number] {
    let least = Number.POSITIVE_INFINITY;
    let most = Number.NEGATIVE_INFINITY;
    this.#eachLeft((row, index) => {
      const cost = this.#cost(row, index, objective);
      if (!Number.isSafeInteger(cost)) {
        throw new RangeError(`cost ${cost} of option ${index} of row ${row} is summed; expected an integer`);
      }
      least = Math.min(least, cost);
      most = Math.max(most, cost);
    });
    return [least, most];
  }

  #cost(row: number, index: number, objective: number): number {
    return this.#rows[row]?.[index]?.costs[objective] as number;
  }

  #drop(row: number, index: number): void {
    (this.#left[row] as boolean[])[index] = false;
  }

  #eachLeft(visit: (row: number, index: number, column: number) => void): void {
    for (const [row, columns] of this.#columns.entries()) {
      for (const [index, column] of columns.entries()) {
        if (this.#left[row]?.[index] === true) visit(row, index, column);
      }
    }
  }
}

function check(rows: readonly (readonly Option[])[], columns: number, objectives: readonly Objective[]): void {
  for (const [row, options] of rows.entries()) {
    for (const [index, { column, costs }] of options.entries()) {
      if (column !== null && !(Number.isInteger(column) && column >= 0 && column < columns)) {
        throw new RangeError(
          `option ${index} of row ${row} takes column ${column}; expected one of ${columns} columns`,
        );
      }
      if (costs.length < objectives.length || !costs.every(Number.isFinite)) {
        throw new RangeError(
          `option ${index} of row ${row} costs [${costs.join(", ")}]; expected ${objectives.length} finite numbers`,
        );
      }
    }
  }
}
