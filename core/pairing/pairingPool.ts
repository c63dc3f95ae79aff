import type { Bore } from "../block/layout.ts";
import type { FitInput, Limits } from "../fit/finding.ts";
import { type LifterFits, lifterFits, type SizedBore } from "../fit/lifterFits.ts";
import { latestStations } from "../fit/stationFit.ts";
import { formatLength } from "../length/formatLength.ts";
import { toNm } from "../length/nm.ts";
import { zeroAt } from "../zero/zeroAt.ts";
import type { LifterRules } from "./lifterRule.ts";
import { PairingError } from "./pairingError.ts";
import { doubledTarget } from "./pairingTarget.ts";

/** The bores and lifters of a session that can be compared with each other. */
export interface PairingPool {
  readonly fits: LifterFits;
  /** In walking order. */
  readonly bores: readonly Bore[];
  /** Measured ones, in their order: those of the bores, then spare ones. */
  readonly lifters: readonly string[];
  /** Bores of the walk that are left alone, and their own lifters with them, each with the reason. */
  readonly leftOut: readonly { readonly bore: string; readonly why: string }[];
  /** Lifters of these bores and spare ones that can not be used, each with the reason. */
  readonly unused: readonly { readonly lifter: string; readonly why: string }[];
}

/**
 * Which bores and lifters can be paired. A bore needs every station under a zero that holds, taken with the micrometer
 * set to a lifter that is named and measured: only then is its size known against other lifters. A bore that lacks this,
 * or is nowhere near its lifter, is left alone with its own lifter, and so is one whose lifter hangs on a tie bar with
 * such a bore's.
 * @param walk Bores of the walk, in its order.
 * @param spares Spare lifters, in the order they are measured.
 * @throws PairingError when nothing can be paired, the lifter that a measured bore has now is not measured, or a
 * pin can not be kept.
 */
export function pairingPool(
  input: FitInput,
  walk: readonly Bore[],
  spares: readonly string[],
  rules: LifterRules,
): PairingPool {
  if (input.lifters.size === 0) {
    throw new PairingError(
      "no-lifters",
      "No lifter was measured in this session; expected the diameter of every lifter, read with the micrometer in the step for lifters. Measure them and pair again.",
    );
  }
  const fits = lifterFits(input);
  const sized = new Map(fits.bores.map((bore) => [bore.name, bore]));
  const why = new Map<string, string>();
  const referenceUnknown = new Set<string>();
  for (const { name } of walk) {
    const bore = sized.get(name);
    const reference = bore === undefined ? null : unknownReference(input, bore);
    if (reference !== null) referenceUnknown.add(name);
    const reason = bore === undefined ? notMeasured(input, name) : (reference ?? farFromLifter(input, bore));
    if (reason !== null) why.set(name, reason);
  }
  leaveOutTied(walk, rules, why);
  requireBores(walk, why, referenceUnknown);

  const bores = walk.filter(({ name }) => !why.has(name));
  const own = bores.map(({ name }) => name);
  // Those that stand in these bores, that were measured for them, or that are spare; none that stands in another bore.
  const elsewhere = new Set(walk.flatMap(({ name }) => (why.has(name) ? [presentLifter(input, name)] : [])));
  const present = own.map((name) => presentLifter(input, name));
  const candidates = [...new Set([...present, ...own, ...spares])].filter((lifter) => !elsewhere.has(lifter));
  const alone = new Map(candidates.map((lifter) => [lifter, whyUnused(input, fits, own, lifter)]));
  const unused: { lifter: string; why: string }[] = [];
  const lifters = candidates.filter((lifter) => {
    const partner = rules[lifter]?.pairedWith ?? "";
    const partnerWhy = alone.get(partner) ?? null;
    const tied = partnerWhy === null ? null : `on one tie bar with ${partner}, which is ${partnerWhy}`;
    const reason = alone.get(lifter) ?? tied;
    if (reason !== null) unused.push({ lifter, why: reason });
    return reason === null;
  });
  requirePresent(input, own, lifters);
  checkPins(own, lifters, why, unused, rules);
  const leftOut = walk.flatMap(({ name }) => {
    const reason = why.get(name);
    return reason === undefined ? [] : [{ bore: name, why: reason }];
  });
  return { fits, bores, lifters, leftOut, unused };
}

/** The lifter that a bore has now: that of an accepted pairing, or its own. */
export function presentLifter(input: FitInput, bore: string): string {
  return input.fitted?.get(bore) ?? bore;
}

function notMeasured(input: FitInput, bore: string): string {
  const stations = latestStations(input, bore);
  if (stations.length === 0) return "not measured";
  const done = ({ height, clock }: FitInput["places"][number]) =>
    stations.some(({ place }) => place.height === height && place.clock === clock);
  const missing = input.places
    .filter((place) => !done(place))
    .map(({ height, clock }) => `${height} ${clock === "axial" ? "along" : "across"} the crank`);
  if (missing.length > 0) return `not measured at ${missing.join(", ")}`;
  const moved = stations.some(({ tMs }) => zeroAt(input.references, tMs).state === "moved");
  return moved ? "its zero moved, so it must be measured again" : "measured before any zero";
}

function unknownReference(input: FitInput, { stations }: SizedBore): string | null {
  for (const { setTo } of stations) {
    if (setTo === null) return "its zero does not name the lifter that the micrometer was set to";
    if (!input.lifters.has(setTo)) return `its zero was set to lifter ${setTo}, which is not measured`;
  }
  return null;
}

function farFromLifter(input: FitInput, bore: SizedBore): string | null {
  const lifter = presentLifter(input, bore.name);
  const diameterNm = input.lifters.get(lifter);
  if (diameterNm === undefined || !isFar(bore, diameterNm, input.limits)) return null;
  return `it measures ${millimetres(bore.minNm)} and its lifter ${lifter} ${millimetres(diameterNm)}, so one of the two is misread or they do not belong together`;
}

function requireBores(walk: readonly Bore[], why: ReadonlyMap<string, string>, referenceUnknown: ReadonlySet<string>) {
  if (walk.some(({ name }) => !why.has(name))) return;
  const byReason = new Map<string, string[]>();
  for (const [bore, reason] of why) byReason.set(reason, [...(byReason.get(reason) ?? []), bore]);
  const reasons = [...byReason].map(([reason, bores]) => `${bores.join(", ")}: ${reason}`).join("; ");
  const bores = walk.map(({ name }) => name);
  if (referenceUnknown.size > 0) {
    throw new PairingError(
      "reference-unknown",
      `No bore's size is known against other lifters than the one the gauge was zeroed on (${reasons}). Expected a zero with the micrometer set to a lifter that is named and measured. Name the lifter with the zero, or measure it.`,
      { bores },
    );
  }
  throw new PairingError(
    "no-bores",
    `No bore can be paired (${reasons}). Expected bores measured at every station under a zero that holds. Measure what is missing.`,
    { bores },
  );
}

function leaveOutTied(walk: readonly Bore[], rules: LifterRules, why: Map<string, string>): void {
  const walked = new Set(walk.map(({ name }) => name));
  const alone = new Set(why.keys());
  for (const { name } of walk) {
    const partner = rules[name]?.pairedWith;
    if (partner === undefined || alone.has(name)) continue;
    if (!walked.has(partner) || alone.has(partner)) {
      const reason = alone.has(partner) ? "is left out" : "is not in this walk";
      why.set(name, `its lifter hangs on one tie bar with ${partner}, whose bore ${reason}`);
    }
  }
}

/** Why a lifter can not be used, its tie bar apart; null when it can. */
function whyUnused(input: FitInput, fits: LifterFits, bores: readonly string[], lifter: string): string | null {
  const diameterNm = input.lifters.get(lifter);
  if (diameterNm === undefined) return "not measured";
  if (bores.some((bore) => presentLifter(input, bore) === lifter)) return null;
  const far = (bore: SizedBore) => isFar(bore, diameterNm, input.limits);
  return fits.bores.every(far) ? "of another size than these bores need" : null;
}

/**
 * Beyond this deviation from the target a lifter is another bore's, or misread: ten times the widest band that ships
 * (our choice), well below the step from one lifter body to the next and below one turn of a micrometer.
 */
const FAR_NM = 254_000;

/** Whether a lifter of so many nm is another bore's, or it or this bore is misread. */
export function isFar({ minNm, maxNm }: SizedBore, diameterNm: number, limits: Limits): boolean {
  return Math.abs((minNm + maxNm - doubledTarget(limits)) / 2 - diameterNm) > FAR_NM;
}

/** The order there is now must be known, to be compared with. */
function requirePresent(input: FitInput, bores: readonly string[], lifters: readonly string[]): void {
  const missing = bores.map((bore) => presentLifter(input, bore)).filter((lifter) => !input.lifters.has(lifter));
  const which = missing.length === 1 ? `lifter ${missing[0]} is` : `lifters ${missing.join(", ")} are`;
  const about = { bores, lifters: missing };
  if (missing.length > 0 && lifters.length < bores.length) {
    throw new PairingError(
      "fewer-lifters",
      `Found ${lifters.length} measured lifter${lifters.length === 1 ? "" : "s"} for ${bores.length} measured bores: ${which} not measured. Expected at least one lifter for each bore. Measure what is missing with the micrometer and pair again.`,
      about,
    );
  }
  if (missing.length > 0) {
    throw new PairingError(
      "lifter-not-measured",
      `The order the lifters are in now can not be judged: ${which} not measured. Expected the lifter of every measured bore to be measured, spare ones besides. Measure what is missing with the micrometer and pair again.`,
      about,
    );
  }
}

function millimetres(length: number): string {
  return `${formatLength(toNm(length), "mm", 4)} mm`;
}

/** A pin must reach a bore that is paired, with a lifter that is. */
function checkPins(
  own: readonly string[],
  lifters: readonly string[],
  why: ReadonlyMap<string, string>,
  unused: PairingPool["unused"],
  rules: LifterRules,
): void {
  const refuse = (lifter: string, bore: string, but: string) => {
    const message = `Lifter ${lifter} is pinned to bore ${bore}, but ${but}. Measure what is missing, or take the pin away.`;
    throw new PairingError("clash", message, { bores: [bore], lifters: [lifter] });
  };
  for (const [lifter, { pinned }] of Object.entries(rules)) {
    const bore = pinned === true ? lifter : pinned;
    if (typeof bore !== "string") continue;
    if (own.includes(bore) && !lifters.includes(lifter)) {
      const reason = unused.find((one) => one.lifter === lifter)?.why ?? "not in this walk";
      const out = why.get(lifter);
      refuse(lifter, bore, out === undefined ? `this lifter is ${reason}` : `its own bore is left out: ${out}`);
    }
    if (lifters.includes(lifter) && !own.includes(bore)) {
      refuse(lifter, bore, `this bore is left out: ${why.get(bore) ?? "not in this walk"}`);
    }
  }
}
