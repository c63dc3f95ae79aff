import type { Bore } from "../block/layout.ts";
import { constraintsOf } from "./constraints.ts";
import { explainClash } from "./explainClash.ts";
import { lexicographicAssignment, type Objective, type Option } from "./lexicographicAssignment.ts";
import type { FaceStyle, LifterRules } from "./lifterRule.ts";
import { arrange, type Placement, type Seating } from "./places.ts";

/** One way to have a lifter in a bore (as it is, or after some work), with its cost in every objective. */
export interface Way<T> {
  readonly costs: readonly number[];
  readonly is: T;
}

export interface LifterRequest<T> {
  /** Bores to be served, in walking order; those of a tie-bar pair both, or neither. */
  readonly bores: readonly Bore[];
  /** In the order they were measured; both of a tie-bar pair, or neither. */
  readonly lifters: readonly string[];
  readonly rules: LifterRules;
  readonly style: FaceStyle;
  /** What counts, in this order; see `lexicographicAssignment` for the bounds of the costs. */
  readonly objectives: readonly Objective[];
  /**
   * The ways to have a lifter in a bore, those to be preferred among equals first; none when it can not be. For
   * `lifter` null: the ways to do without any of these lifters, whatever the rules say; absent means none. The bores of
   * a pair do without together.
   */
  readonly ways: (bore: string, lifter: string | null) => readonly Way<T>[];
}

export interface LifterChoice<T> {
  readonly bore: string;
  /** Null when the bore does without any of the lifters. */
  readonly lifter: string | null;
  readonly way: T;
  /** One of a tie-bar pair that goes in turned round. */
  readonly turned: boolean;
}

/** What takes one place: the lifters of a seating, or none. */
interface Served<T> {
  readonly seating: Seating | null;
  readonly ways: readonly Way<T>[];
}

/**
 * A lifter and a way for every bore, no lifter twice, every rule kept, so that the objectives are as small as can be one
 * after the other; among equals the bore that is walked first has the lifter measured first, and so on. Tie-bar pairs
 * count as two lifters in every objective. Exact under the rule where pairs may go (`arrange`).
 * @returns In walking order.
 * @throws PairingError "clash", naming the rules, when they can not be kept together.
 */
export function chooseLifters<T>(request: LifterRequest<T>): LifterChoice<T>[] {
  const { bores, lifters, rules, style, objectives, ways } = request;
  const arrangement = arrange(bores, lifters, rules);
  const { places, units, seatings } = arrangement;
  const constraints = constraintsOf(units, rules, style);
  // A pair asks for its lifters' ways twice where it may be turned round, and a clash asks for all of them again.
  const known = new Map(bores.map(({ name }) => [name, new Map<string | null, readonly Way<T>[]>()]));
  const waysOf = (bore: string, lifter: string | null): readonly Way<T>[] => {
    const found = known.get(bore)?.get(lifter) ?? ways(bore, lifter);
    known.get(bore)?.set(lifter, found);
    return found;
  };
  const rows = places.map((place, at) => {
    const served: Served<T>[] = [];
    const serve = (seating: Seating | null, placements: readonly { bore: string; lifter: string | null }[]) => {
      for (const chosen of everyWay(placements.map(({ bore, lifter }) => waysOf(bore, lifter)))) {
        served.push({ seating, ways: chosen });
      }
    };
    for (const seating of seatings[at] ?? []) {
      if (!constraints.some((one) => one.forbids(seating))) serve(seating, seating.placements);
    }
    serve(
      null,
      place.bores.map((bore) => ({ bore, lifter: null })),
    );
    return served;
  });
  const options = rows.map((row) =>
    row.map(
      (served): Option => ({
        column: served.seating?.unit ?? null,
        costs: objectives.map((objective, index) => total(objective, served.ways, index)),
      }),
    ),
  );
  const chosen = lexicographicAssignment(options, units.length, objectives);
  if (chosen === null) {
    const possible = (_place: number, { placements }: Seating) =>
      placements.every(({ bore, lifter }: Placement) => waysOf(bore, lifter).length > 0);
    throw explainClash(arrangement, constraints, possible);
  }
  const byBore = new Map<string, LifterChoice<T>>();
  for (const [at, place] of places.entries()) {
    const served = rows[at]?.[chosen[at] ?? -1];
    for (const [index, bore] of place.bores.entries()) {
      const way = served?.ways[index];
      if (way === undefined) continue;
      const lifter = served?.seating?.placements[index]?.lifter ?? null;
      byBore.set(bore, { bore, lifter, way: way.is, turned: served?.seating?.turned ?? false });
    }
  }
  return bores.flatMap(({ name }) => byBore.get(name) ?? []);
}

function total<T>(objective: Objective, ways: readonly Way<T>[], index: number): number {
  const costs = ways.map((way) => way.costs[index] as number);
  return objective === "sum" ? costs.reduce((sum, cost) => sum + cost, 0) : Math.max(...costs);
}

/** Every choice of one way for each bore of a place. */
function everyWay<T>(ways: readonly (readonly Way<T>[])[]): (readonly Way<T>[])[] {
  const [first, ...others] = ways;
  if (first !== undefined && others.length === 0) return first.map((way) => [way]);
  return ways.reduce<(readonly Way<T>[])[]>(
    (chosen, next) => chosen.flatMap((before) => next.map((way) => [...before, way])),
    [[]],
  );
}
