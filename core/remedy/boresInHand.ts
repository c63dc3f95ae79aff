import type { Bore } from "../block/layout.ts";
import { findBores } from "../fit/findBores.ts";
import type { BoreFinding, FitInput } from "../fit/finding.ts";
import { lifterFits } from "../fit/lifterFits.ts";
import { constraintsOf } from "../pairing/constraints.ts";
import type { FaceStyle, LifterRules } from "../pairing/lifterRule.ts";
import { arrange } from "../pairing/places.ts";
import type { BoreInHand } from "./boreOptions.ts";
import { isStandIn } from "./lifterIn.ts";

/** Everything a remedy is worked out from. */
export interface RemedyInput {
  readonly fit: FitInput;
  /** Bores of the block's layout, at least those of `fit.bores`. */
  readonly layout: readonly Bore[];
  readonly rules: LifterRules;
  readonly style: FaceStyle;
}

/** The bores of a walk as far as something can be planned for them. */
export interface BoresInHand {
  /** Every bore of the walk, in that order. */
  readonly findings: readonly BoreFinding[];
  /** Those measured at every station under a zero that holds, in the same order. */
  readonly bores: readonly BoreInHand[];
  /** Of those, the ones between which lifters can change places, and the lifters that can. */
  readonly exchange: { readonly bores: readonly Bore[]; readonly lifters: readonly string[] };
}

/**
 * A bore or a lifter this far from what it should be has no part in an exchange, nm: it was misread, or is none of these.
 * Our choice; it also keeps the pairing's sums exact.
 */
const FAR_NM = 500_000;

/**
 * What can be planned for. Lifters change places only between bores that are measured and whose present lifters are
 * measured, against a micrometer set to a measured one; the lifters of all other bores stay where they are. Of a tie-bar
 * pair both take part or neither.
 */
export function boresInHand({ fit, layout, rules, style }: RemedyInput): BoresInHand {
  const fits = lifterFits(fit);
  const findings = findBores(fit);
  const sized = new Map(fits.bores.map((bore) => [bore.name, bore]));
  const belongs = (lifter: string) =>
    Math.abs((fit.lifters.get(lifter) ?? Number.POSITIVE_INFINITY) - fit.nominalLifterNm) <= FAR_NM;
  const ready = new Map(
    findings.flatMap((finding) => {
      const bore = sized.get(finding.name);
      const { lifter, clearanceMaxNm, clearanceMinNm } = finding;
      if (bore === undefined || lifter === null || isStandIn(fit, bore, finding) || !belongs(lifter)) return [];
      const farthest = Math.max(Math.abs(clearanceMaxNm ?? 0), Math.abs(clearanceMinNm ?? 0));
      return farthest <= FAR_NM ? [[finding.name, lifter] as const] : [];
    }),
  );
  const partnersAreReady = (names: readonly (string | undefined)[], there: (name: string) => boolean) =>
    names.every((name) => name === undefined || there(name));
  for (;;) {
    const lifters = new Set(ready.values());
    const lame = [...ready].filter(
      ([bore, lifter]) =>
        !partnersAreReady([rules[bore]?.pairedWith], (partner) => ready.has(partner)) ||
        !partnersAreReady([rules[lifter]?.pairedWith], (partner) => lifters.has(partner)),
    );
    if (lame.length === 0) break;
    for (const [bore] of lame) ready.delete(bore);
  }
  const present = new Set(ready.values());
  const elsewhere = new Set(
    findings.flatMap(({ name, lifter }) => (ready.has(name) || lifter === null ? [] : [lifter])),
  );
  const free = (lifter: string) => belongs(lifter) && isFree(lifter);
  const isFree = (lifter: string) => present.has(lifter) || (rules[lifter]?.spare === true && !elsewhere.has(lifter));
  const lifters = [...fit.lifters.keys()].filter(
    (lifter) =>
      free(lifter) &&
      partnersAreReady([rules[lifter]?.pairedWith], (partner) => fit.lifters.has(partner) && free(partner)),
  );
  const bores = fit.bores.flatMap((name) => (ready.has(name) ? layout.filter((bore) => bore.name === name) : []));
  const allowed = allowedLifters(bores, lifters, rules, style);
  return {
    findings,
    bores: findings.flatMap((finding) => {
      const bore = sized.get(finding.name);
      if (bore === undefined) return [];
      return [{ input: fit, fits, bore, finding, allowed: allowed.get(finding.name) ?? [] }];
    }),
    exchange: { bores, lifters },
  };
}

/** By bore the lifters that may go there under the rules, whatever becomes of the other bores. */
function allowedLifters(bores: readonly Bore[], lifters: readonly string[], rules: LifterRules, style: FaceStyle) {
  const { units, seatings } = arrange(bores, lifters, rules);
  const constraints = constraintsOf(units, rules, style);
  const allowed = new Map<string, string[]>();
  for (const seating of seatings.flat()) {
    if (constraints.some((one) => one.forbids(seating))) continue;
    for (const { bore, lifter } of seating.placements) {
      const list = allowed.get(bore) ?? [];
      if (!list.includes(lifter)) allowed.set(bore, [...list, lifter]);
    }
  }
  return allowed;
}
