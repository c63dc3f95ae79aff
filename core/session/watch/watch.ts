import { Remembered } from "../remembered.ts";
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

/** A rule with what it looks at: while that is the same, so is what it finds. */
interface Watched {
  readonly sees: readonly (keyof Sight)[];
  readonly rule: Rule<Sight>;
}

// The compiler sees to it that no rule looks at anything it does not name.
const by = <Key extends keyof Sight>(rule: Rule<Pick<Sight, Key>>, ...sees: readonly Key[]): Watched => ({
  sees,
  rule,
});

/** Every rule that looks at a session as a whole. What a single line or sweep shows is raised where it is read. */
const RULES: readonly Watched[] = [
  by(coarseGauge, "job", "bore", "micrometer", "temperaturesMeasured"),
  by(unitMismatch, "job", "bore", "micrometer", "lifters", "stations", "stepCheck", "stream", "farPressesNm"),
  by(turnOut, "job", "micrometer", "lifters"),
  by(oddLifter, "job", "micrometer", "lifters"),
  by(polarityReversed, "job", "bore", "stations", "stepCheck", "stream"),
  by(outOfRange, "bore", "stream"),
  by(samePlace, "job", "lingering"),
  by(oddBore, "job", "bore", "bores"),
  by(sameBore, "job", "bore", "bores", "stations"),
  by(temperatureTrend, "job", "bore", "bores", "references"),
  by(neverChecked, "job", "stations", "references"),
];

/** What a look found, and what stood at the look before and does no more. */
export interface Look {
  readonly found: readonly Suspicion[];
  readonly gone: readonly Suspicion[];
}

/** Looks at a session by every rule and remembers what stood, so that a suspicion goes away when it no longer holds. */
export class Watch {
  #standing = new Map<string, Suspicion>();
  readonly #answers = RULES.map(() => new Remembered<readonly Suspicion[]>());

  /** What has not changed since the look before must be the same object in `sight`. */
  look(sight: Sight): Look {
    const found = new Map<string, Suspicion>();
    for (const [index, { sees, rule }] of RULES.entries()) {
      const answer = this.#answers[index] as Remembered<readonly Suspicion[]>;
      const suspicions = answer.of(
        sees.map((key) => sight[key]),
        () => rule(sight),
      );
      for (const suspicion of suspicions) {
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
