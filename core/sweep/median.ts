/**
 * Median of a list of numbers; the mean of the middle two when their count is even. NaN for an empty list. The unit
 * is that of the numbers; they may come in any order and are not changed.
 */
export function median(values: readonly number[]): number {
  return medianOfSorted([...values].sort((a, b) => a - b));
}

/** `median` of numbers that stand in rising order already. */
export function medianOfSorted(sorted: readonly number[]): number {
  const middle = sorted.length >> 1;
  const upper = sorted[middle] as number;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] as number) + upper) / 2;
}
