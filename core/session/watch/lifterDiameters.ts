import { median } from "../../sweep/median.ts";
import type { Sight } from "./sight.ts";

/** A lifter with at least one reading. */
export interface ReadLifter {
  readonly name: string;
  /** Median of its readings, nm. */
  readonly diameterNm: number;
}

/** The lifters read so far, in walk order; one that lacks some of its readings counts with those it has. */
export function readLifters({ lifters }: Pick<Sight, "lifters">): readonly ReadLifter[] {
  return lifters
    .filter(({ readings }) => readings.length > 0)
    .map(({ name, readings }) => ({ name, diameterNm: median(readings) }));
}
