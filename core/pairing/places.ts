import type { Bore } from "../block/layout.ts";
import type { LifterRules } from "./lifterRule.ts";

/** A lifter in a bore. */
export interface Placement {
  readonly bore: string;
  readonly lifter: string;
}

/** What is moved as one: a single lifter, or the two of a tie bar with the intake lifter first. */
export interface Unit {
  readonly lifters: readonly string[];
}

/** Where a unit goes: a single bore, or the two that a tie-bar pair fills with the intake bore first. */
export interface Place {
  readonly bores: readonly string[];
  /** Which of its bores is walked first. */
  readonly first: string;
}

/** A unit in a place. */
export interface Seating {
  /** Index among the units. */
  readonly unit: number;
  readonly placements: readonly Placement[];
  /** A pair with its intake lifter in the exhaust bore. */
  readonly turned: boolean;
}

export interface Arrangement {
  /** In walking order, by the bore of each that is walked first. */
  readonly places: readonly Place[];
  /** In the order the lifters were measured, by the lifter of each that was measured first. */
  readonly units: readonly Unit[];
  /**
   * For every place each unit that could go there if there were no rules but the tie bars; first the one whose lifter
   * for the bore that is walked first was measured first.
   */
  readonly seatings: readonly (readonly Seating[])[];
}

/**
 * What can go where.
 *
 * A pair goes only to a place for a pair: the two bores, an intake and an exhaust of one cylinder, whose own lifters
 * hang on one tie bar; and nothing else goes there. A single lifter goes to any other bore. The reason (common practice,
 * no source): a tie bar keeps a roller lifter from turning, so a lifter without one has no hold where bores rely on it,
 * and a pair has no room where they do not. With several intake or exhaust bores to a cylinder the two of a pair stay
 * the two of a place, since the bar has one length. Of a spare pair the lifter measured first is the intake one.
 * @param bores In walking order. Bores whose own lifters are a pair are both there, or neither.
 * @param lifters In the order they were measured. Pairs are there with both lifters, or neither.
 */
export function arrange(bores: readonly Bore[], lifters: readonly string[], rules: LifterRules): Arrangement {
  const named = new Map(bores.map((bore) => [bore.name, bore]));
  const units: Unit[] = [];
  for (const lifter of lifters) {
    if (units.some((unit) => unit.lifters.includes(lifter))) continue;
    const partner = rules[lifter]?.pairedWith;
    if (partner === undefined) units.push({ lifters: [lifter] });
    else units.push({ lifters: named.get(lifter)?.valve === "E" ? [partner, lifter] : [lifter, partner] });
  }
  const places: Place[] = [];
  for (const { name, valve } of bores) {
    if (places.some((place) => place.bores.includes(name))) continue;
    const partner = rules[name]?.pairedWith;
    places.push({
      bores: partner === undefined ? [name] : valve === "E" ? [partner, name] : [name, partner],
      first: name,
    });
  }
  const rank = new Map(lifters.map((lifter, index) => [lifter, index]));
  const seatings = places.map((place) => {
    const at = place.bores.indexOf(place.first);
    return units
      .flatMap((unit, index) => seat(place, unit, index))
      .map((seating) => ({ seating, rank: rank.get(seating.placements[at]?.lifter ?? "") ?? 0 }))
      .sort((a, b) => a.rank - b.rank)
      .map(({ seating }) => seating);
  });
  return { places, units, seatings };
}

function seat(place: Place, { lifters }: Unit, unit: number): Seating[] {
  if (place.bores.length !== lifters.length) return [];
  const put = (order: readonly string[]) => place.bores.map((bore, at) => ({ bore, lifter: order[at] as string }));
  const straight = { unit, placements: put(lifters), turned: false };
  if (lifters.length === 1) return [straight];
  return [straight, { unit, placements: put([...lifters].reverse()), turned: true }];
}
