import type { Constraint } from "./constraints.ts";
import { lexicographicAssignment } from "./lexicographicAssignment.ts";
import { PairingError } from "./pairingError.ts";
import type { Arrangement, Seating } from "./places.ts";

/**
 * Why no order keeps all the constraints: a smallest set of them that already clash (none can be taken away without
 * leaving an order), and what they leave no room for: bores that have one lifter too few between them (a violator of
 * Hall's condition, Journal of the London Mathematical Society 10, 1935, 26–30; from memory), or lifters that have one
 * bore too few.
 * @param possible Whether a seating is possible apart from the constraints.
 */
export function explainClash(
  { places, units, seatings }: Arrangement,
  constraints: readonly Constraint[],
  possible: (place: number, seating: Seating) => boolean,
): PairingError {
  const candidates = seatings.map((row, place) =>
    row
      .filter((seating) => possible(place, seating))
      .map((seating) => ({ seating, against: new Set(constraints.filter((one) => one.forbids(seating))) })),
  );
  const unitsOf = (place: number, kept: ReadonlySet<Constraint>): number[] =>
    (candidates[place] ?? []).flatMap(({ seating, against }) =>
      [...against].some((one) => kept.has(one)) ? [] : [seating.unit],
    );
  const allPlaces = places.map((_, place) => place);
  const clashing = smallest(constraints, (kept) => {
    const set = new Set(kept);
    return !canServe(
      allPlaces.map((place) => unitsOf(place, set)),
      units.length,
    );
  });
  const kept = new Set(clashing);
  const left = allPlaces.map((place) => unitsOf(place, kept));

  const tightPlaces = smallest(
    allPlaces,
    (some) =>
      !canServe(
        some.map((place) => left[place] ?? []),
        units.length,
      ),
  );
  const bores = tightPlaces.flatMap((place) => places[place]?.bores ?? []);
  const lifters = lifterNames(new Set(tightPlaces.flatMap((place) => left[place] ?? [])));
  let shortage = lacking("bore", bores, "lifter", lifters);
  const named = (more: readonly string[]) => [...new Set([...clashing.flatMap((one) => one.lifters), ...more])];
  let about = { bores, lifters: named(lifters) };

  if (units.length === places.length) {
    // With no lifter to spare the same clash can be told from the lifters' side, which is shorter at times.
    const allUnits = units.map((_, unit) => unit);
    const placesOf = allUnits.map((unit) => allPlaces.filter((place) => left[place]?.includes(unit)));
    const tightUnits = smallest(
      allUnits,
      (some) =>
        !canServe(
          some.map((unit) => placesOf[unit] ?? []),
          places.length,
        ),
    );
    if (tightUnits.length < tightPlaces.length) {
      const left = [...new Set(tightUnits.flatMap((unit) => placesOf[unit] ?? []))];
      const names = lifterNames(new Set(tightUnits));
      const boreNames = left.flatMap((place) => places[place]?.bores ?? []);
      shortage = lacking("lifter", names, "bore", boreNames);
      about = { bores: boreNames, lifters: named(names) };
    }
  }
  const reasons = [...together(clashing), ...tieBars(clashing)];
  if (reasons.length === 0)
    return new PairingError("clash", `No order of the lifters serves every bore: ${shortage}.`, about);
  return new PairingError(
    "clash",
    `No order of the lifters keeps all of this: ${reasons.join("; ")}. Then ${shortage}. Change one of these.`,
    about,
  );

  function lifterNames(chosen: ReadonlySet<number>): string[] {
    return [...chosen].sort((a, b) => a - b).flatMap((unit) => units[unit]?.lifters ?? []);
  }

  /** The tie bars of the lifters named, where no constraint has told of them. */
  function tieBars(told: readonly Constraint[]): string[] {
    return units.flatMap(({ lifters }) => {
      if (lifters.length < 2 || !told.some((one) => one.lifters.some((lifter) => lifters.includes(lifter)))) return [];
      if (told.some((one) => one.lifters.length > 1 && one.lifters[0] === lifters[0])) return [];
      return [
        `lifters ${lifters.join(" and ")} hang on one tie bar and go together, to bores whose own lifters are such a pair`,
      ];
    });
  }
}

/** A part of `all` that still clashes and of which nothing can be left out. */
function smallest<T>(all: readonly T[], clashes: (some: readonly T[]) => boolean): T[] {
  let kept = [...all];
  for (const one of all) {
    const without = kept.filter((other) => other !== one);
    if (clashes(without)) kept = without;
  }
  return kept;
}

function canServe(rows: readonly (readonly number[])[], columns: number): boolean {
  const options = rows.map((row) => row.map((column) => ({ column, costs: [] })));
  return lexicographicAssignment(options, columns, []) !== null;
}

/** The constraints' texts, those that keep one lifter from several bores in one. */
function together(constraints: readonly Constraint[]): string[] {
  const texts = new Map<string, string>();
  const KEPT = / is kept from bore (.*)$/;
  for (const { text, lifters } of constraints) {
    const bore = KEPT.exec(text)?.[1];
    const key = bore === undefined ? text : `kept ${lifters.join()}`;
    const before = texts.get(key);
    texts.set(key, before === undefined ? text : `${before.replace("from bore ", "from bores ")}, ${bore}`);
  }
  return [...texts.values()];
}

function lacking(
  what: "bore" | "lifter",
  names: readonly string[],
  other: "bore" | "lifter",
  left: readonly string[],
): string {
  const list = `${what}${names.length === 1 ? "" : "s"} ${names.join(", ")}`;
  if (left.length === 0) return `no ${other} is left for ${list}`;
  return `${list} ${names.length === 1 ? "has" : "have"} only ${other}${left.length === 1 ? "" : "s"} ${left.join(", ")}`;
}
