import { median } from "../../sweep/median.ts";

/** A robust z above this is odd, if there are fellows enough (from many values on). */
export const ODD_Z = 4;

/**
 * Largest distance from the median, in `restScatter`s, that one of n normal values has in 3 of 10 000 sets, for n from
 * 5 to 16; derived here by simulation of 400 000 sets each. A walk looks a dozen times, so that a clean one is accused
 * about twice in a thousand. A plain robust z above 4 happens by chance in one clean set of ten at n = 8, and in one of
 * seventeen at n = 16.
 */
const BY_CHANCE = [33.4, 19.1, 13.6, 11.0, 9.5, 8.5, 7.9, 9.9, 9.0, 8.6, 8.2, 7.9];
const FEWEST = 5;

/** A value that stands apart from its fellows. */
export interface Apart {
  readonly index: number;
  /** From the median of all, in the unit of the values, signed. */
  readonly distance: number;
}

/**
 * The values that stand apart from their fellows: farther from the median than chance allows, and than `ODD_Z` times
 * `floor`, the scatter that the values may have whatever they show (so that fellows which happen to repeat, or a coarse
 * display, accuse no one). Nothing with fewer than five values.
 */
export function standApart(values: readonly number[], floor: number): readonly Apart[] {
  const limit = BY_CHANCE[Math.min(values.length - FEWEST, BY_CHANCE.length - 1)];
  if (limit === undefined) return [];
  const middle = median(values);
  const allowed = Math.max(limit * restScatter(values, middle), ODD_Z * floor);
  return values.flatMap((value, index) => {
    const distance = value - middle;
    return Math.abs(distance) > allowed ? [{ index, distance }] : [];
  });
}

/** Root mean square distance from the median of all but the farthest: one of fewer than twelve, two of more. */
export function restScatter(values: readonly number[], middle: number): number {
  const squares = values.map((value) => (value - middle) ** 2).sort((a, b) => a - b);
  const rest = squares.slice(0, values.length - (values.length < 12 ? 1 : 2));
  return Math.sqrt(rest.reduce((sum, square) => sum + square, 0) / Math.max(1, rest.length - 1));
}
