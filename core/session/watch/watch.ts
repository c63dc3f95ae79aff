import { coarseGauge } from "./coarseGauge.ts";
import { neverChecked } from "./neverChecked.ts";
import { oddBore } from "./oddBore.ts";
import { oddLifter } from "./oddLifter.ts";
import { outOfRange } from "./outOfRange.ts";
import { polarityReversed } from "./polarityReversed.ts";
import { sameBore } from "./sameBore.ts";
import { samePlace } from "./samePlace.ts";
import type { Rule, Sight, Suspicion } from "./sight.ts";
import { temperatureTrend } from "./temperatureTrend.ts";
import { turnOut } from "./turnOut.ts";
import { unitMismatch } from "./unitMismatch.ts";

/** Every rule that looks at a session as a whole. What a single line or sweep shows is raised where it is read. */
const RULES: readonly Rule<Sight>[] = [
  coarseGauge,
  unitMismatch,
  turnOut,
  oddLifter,
  polarityReversed,
  outOfRange,
  samePlace,
  oddBore,
  sameBore,
  temperatureTrend,
  neverChecked,
];

/** What a look found, and what stood at the look before and does no more. */
export interface Look {
  readonly found: readonly Suspicion[];
  readonly gone: readonly Suspicion[];
}

/** Looks at a session by every rule and remembers what stood, so that a suspicion goes away when it no longer holds. */
export class Watch {
  #standing = new Map<string, Suspicion>();

  look(sight: Sight): Look {
    const found = new Map<string, Suspicion>();
    for (const rule of RULES) {
      for (const suspicion of rule(sight)) {
        const key = keyOf(suspicion);
        // The figures in a sentence may shift with every bore: it stays as it was first said.
        found.set(key, this.#standing.get(key) ?? suspicion);
      }
    }
    const gone = [...this.#standing].filter(([key]) => !found.has(key)).map(([, suspicion]) => suspicion);
    this.#standing = found;
    return { found: [...found.values()], gone };
  }
}

function keyOf({ code, where }: Suspicion): string {
  return [code, where.gauge ?? "", where.bore ?? "", where.height ?? "", where.clock ?? ""].join("|");
}
