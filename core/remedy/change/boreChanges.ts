import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { coverageFactor } from "../../fit/gum.ts";
import { type Sized, uncertaintyOf, weighted } from "./errorSources.ts";
import { simultaneousFactor } from "./simultaneous.ts";
import type { StationChange } from "./stationChanges.ts";
import { meanCovariance, untouchedLevel } from "./untouchedLevel.ts";

/** In so many blocks that nothing was done to may a change be seen in any of their bores. */
const FALSE_BLOCKS = 0.01;
/** Part of it that goes to the level of the untouched bores, the rest to bores that differ from them. */
const FOR_LEVEL = 0.4;

/** What two sessions say of a bore. */
export interface BoreChange {
  readonly name: string;
  readonly stations: readonly StationChange[];
  readonly change: "none seen" | "larger" | "smaller" | "not known";
  /** Mean change of its places less that of the untouched bores, nm, unrounded; null where there is no such level. */
  readonly besideOthers: { readonly valueNm: number; readonly expandedNm: number } | null;
}

/** Bores measured under the same settings of the micrometer, and what the untouched ones among them show alike. */
export interface ChangeGroup {
  readonly bores: readonly string[];
  /** Null where too few are untouched, or where they moved by more than the settings explain. */
  readonly level: { readonly valueNm: number; readonly expandedNm: number; readonly from: readonly string[] } | null;
}

/**
 * Which bores changed. A bore is seen to have changed only where its errors hardly explain it: in at most one in a
 * hundred blocks that nothing was done to is a change seen in any bore, however many there are.
 *
 * Most of the errors (setting the micrometer, indicator, temperature) are shared by the bores measured under one setting.
 * So the bores that were not to be touched (`untouched`; all, where nobody knows) are taken as the level, as long as that
 * lies where those errors may put it (0.4 % risk), and each bore and place is judged beside it, by the errors that are its
 * own. Without such a level each is judged by itself, all of its errors counted, with one factor for all of them; and where
 * the bores together moved by more than the settings explain (0.4 % again), each that moved with them beyond its own U.
 */
export function boreChanges(
  stations: readonly StationChange[],
  untouched: (bore: string) => boolean = () => true,
): { readonly bores: readonly BoreChange[]; readonly groups: readonly ChangeGroup[] } {
  const names = [...new Set(stations.map(({ bore }) => bore))];
  const known = new Map(
    names.flatMap((name) => {
      const own = stations.filter((station) => station.bore === name);
      const changes = own.flatMap(({ change }) => (change === null ? [] : [change]));
      if (changes.length === 0) return [];
      const mean = weighted(changes.map((size) => ({ size, weight: 1 / changes.length })));
      const setting = own.find(({ change }) => change !== null)?.setting ?? "";
      return [[name, { name, mean, changes, setting }] as const];
    }),
  );
  const settings = [...new Set([...known.values()].map(({ setting }) => setting))];
  const risk = FALSE_BLOCKS / Math.max(1, settings.length);
  const found = new Map<string, Pick<BoreChange, "change" | "besideOthers">>();
  const groups = settings.map((setting): ChangeGroup => {
    const group = [...known.values()].filter((bore) => bore.setting === setting);
    return judgeGroup(group, untouched, risk, found);
  });
  const bores = names.map((name): BoreChange => {
    const own = stations.filter((station) => station.bore === name);
    return { name, stations: own, ...(found.get(name) ?? { change: "not known", besideOthers: null }) };
  });
  return { bores, groups };
}

interface KnownBore {
  readonly name: string;
  readonly mean: Sized;
  /** Of each place. */
  readonly changes: readonly Sized[];
}

function judgeGroup(
  group: readonly KnownBore[],
  untouched: (bore: string) => boolean,
  risk: number,
  found: Map<string, Pick<BoreChange, "change" | "besideOthers">>,
): ChangeGroup {
  const candidates = group.filter(({ name }) => untouched(name));
  const looks = group.map(looksAt);
  const count = looks.flat().length;
  // So many independent looks at this risk each are wrong somewhere with the whole of it (Šidák).
  const each = 1 - (1 - risk * (1 - FOR_LEVEL)) ** (1 / count);
  const far = coverageFactor(1 - each, Number.POSITIVE_INFINITY);
  const level = untouchedLevel(
    candidates.map(({ mean }) => mean),
    far,
  );
  const bores = group.map(({ name }) => name);
  if (level !== null && explained(level.level, risk * FOR_LEVEL)) {
    const less = (size: Sized) =>
      weighted([
        { size, weight: 1 },
        { size: level.level, weight: -1 },
      ]);
    for (const [index, bore] of group.entries()) {
      const change = directionOf((looks[index] as Sized[]).map(less), each);
      found.set(bore.name, { change, besideOthers: expanded(less(bore.mean)) });
    }
    const from = level.from.map((index) => (candidates[index] as KnownBore).name);
    return { bores, level: { ...expanded(level.level), from } };
  }
  const all = looks.flat();
  const shared = Math.sqrt(meanCovariance(group.map(({ mean }) => mean)));
  const factor = simultaneousFactor(
    all.map((size) => ({ shared, own: Math.sqrt(Math.max(0, uncertaintyOf(size).u ** 2 - shared ** 2)) })),
    risk * (1 - FOR_LEVEL),
  );
  // As rare a deviation with few degrees of freedom as `factor` is with many.
  const strictly = 2 * normalCdf(-factor, 0, 1);
  const together = weighted(group.map(({ mean }) => ({ size: mean, weight: 1 / group.length })));
  const allMoved = explained(together, risk * FOR_LEVEL) ? 0 : Math.sign(together.valueNm);
  for (const [index, bore] of group.entries()) {
    const strict = directionOf(looks[index] as Sized[], strictly);
    const alone = directionOf([bore.mean], 0.05);
    const withAll = alone === (allMoved > 0 ? "larger" : "smaller") && allMoved !== 0;
    found.set(bore.name, { change: strict === "none seen" && withAll ? alone : strict, besideOthers: null });
  }
  return { bores, level: null };
}

/** What is looked at of a bore: its mean, and where it has several places each of them. */
function looksAt({ mean, changes }: KnownBore): Sized[] {
  return changes.length < 2 ? [mean] : [mean, ...changes];
}

function explained(size: Sized, risk: number): boolean {
  return Math.abs(size.valueNm) <= boundOf(size, risk);
}

/**
 * How far a size may be off in all but `risk` (inside 0 … 1) of cases, nm, either way. What a press is long by falls off
 * exponentially (`stationRepeatability`), so the difference of two such errors does on both sides, P(|x| > k·σ) = e^(−√2·k);
 * that part is bounded by its own factor and added in quadrature (our choice; checked by simulation).
 */
function boundOf(size: Sized, risk: number): number {
  const { u, degreesOfFreedom, longTailed } = uncertaintyOf(size);
  const factor = coverageFactor(1 - risk, degreesOfFreedom);
  const longFactor = Math.max(factor, -Math.log(risk) / Math.SQRT2);
  return Math.hypot(factor * Math.sqrt(Math.max(0, u ** 2 - longTailed ** 2)), longFactor * longTailed);
}

/** Which way the look that is farthest beyond its bounds points. */
function directionOf(looks: readonly Sized[], risk: number): BoreChange["change"] {
  let farthest = 1;
  let change: BoreChange["change"] = "none seen";
  for (const look of looks) {
    const beyond = Math.abs(look.valueNm) / boundOf(look, risk);
    if (beyond <= farthest) continue;
    farthest = beyond;
    change = look.valueNm > 0 ? "larger" : "smaller";
  }
  return change;
}

function expanded(size: Sized): { readonly valueNm: number; readonly expandedNm: number } {
  const { u, degreesOfFreedom } = uncertaintyOf(size);
  return { valueNm: size.valueNm, expandedNm: coverageFactor(0.95, degreesOfFreedom) * u };
}
