import type { Pairing } from "../../core/report/pairingSchema.ts";
import type { LifterWay } from "../plan/LifterWays.tsx";

export type Assignment = Pairing["assignments"][number];

/** What is to be done at a bore: its lifter changes, or stays in as it is. */
export function changes({ lifter, before }: Assignment): boolean {
  return lifter !== before.lifter;
}

/** The bores whose lifter changes, in walking order. */
export function movedLifters(pairing: Pairing): Assignment[] {
  return pairing.assignments.filter(changes);
}

/** Where each lifter that changes comes from: the bore it stands in now, or none where it is a spare one. */
export function waysOf(pairing: Pairing): LifterWay[] {
  const standsIn = new Map(pairing.assignments.map(({ bore, before }) => [before.lifter, bore]));
  return movedLifters(pairing).flatMap(({ bore, lifter }) => {
    const from = standsIn.get(lifter);
    return from === undefined ? [] : [{ from, to: bore }];
  });
}

/** Where a lifter is to be taken from, in words. */
export function fromWhere(pairing: Pairing, { lifter }: Assignment): string {
  const from = pairing.assignments.find(({ before }) => before.lifter === lifter);
  return from === undefined ? "from the bench" : `out of ${from.bore}`;
}
