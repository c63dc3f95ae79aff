/**
 * A column of its own for every row of an n × n table of allowed cells (1) and forbidden ones (0), row by row, by
 * augmenting paths. Starts from `start`, the row of each column or -1, where given (cells no longer allowed are let go).
 * @returns the row of each column, or null if there is none.
 */
export function fullMatching(allowed: Uint8Array, n: number, start?: Int32Array): Int32Array | null {
  const rowOf = new Int32Array(n).fill(-1);
  const has = new Uint8Array(n);
  if (start !== undefined) {
    for (let j = 0; j < n; j += 1) {
      const i = start[j] as number;
      if (i === -1 || allowed[i * n + j] === 0) continue;
      rowOf[j] = i;
      has[i] = 1;
    }
  }
  const reachedFrom = new Int32Array(n);
  const queue = new Int32Array(n);
  for (let root = 0; root < n; root += 1) {
    if (has[root] === 1) continue;
    const free = search(root);
    if (free === -1) return null;
    // Each column on the path takes the row it was reached from, which lets go of the column it had.
    for (let j = free; j !== -1; ) {
      const i = reachedFrom[j] as number;
      const before = i === root ? -1 : rowOf.indexOf(i);
      rowOf[j] = i;
      j = before;
    }
    has[root] = 1;
  }
  return rowOf;

  function search(root: number): number {
    reachedFrom.fill(-1);
    queue[0] = root;
    for (let head = 0, tail = 1; head < tail; head += 1) {
      const i = queue[head] as number;
      for (let j = 0; j < n; j += 1) {
        if (allowed[i * n + j] === 0 || reachedFrom[j] !== -1) continue;
        reachedFrom[j] = i;
        const owner = rowOf[j] as number;
        if (owner === -1) return j;
        queue[tail] = owner;
        tail += 1;
      }
    }
    return -1;
  }
}
