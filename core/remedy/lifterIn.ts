import type { BoreFinding, FitInput } from "../fit/finding.ts";
import type { SizedBore, SizedStation } from "../fit/lifterFits.ts";
import { type Nm, toNm } from "../length/nm.ts";

/** A lifter as a bore is planned for it. */
export interface LifterIn {
  /** Its name where it was measured; null for the reference lifter that stands in for one that was not, or for one still to be bought. */
  readonly name: string | null;
  readonly known: "measured" | "stands in" | "to be bought";
  /** Diameter at 20 °C, nm, as the micrometer showed it; for one that stands in, that of the setting in force at a station. */
  at20(station: SizedStation): number;
  /** How well a clearance to it is known when the micrometer is set to any lifter: that of the station. */
  uncertaintyAt(station: SizedStation): { readonly u: number; readonly degreesOfFreedom: number };
}

/** A lifter that was measured, by its name. */
export function measuredLifter(name: string, diameterNm: Nm): LifterIn {
  return {
    name,
    known: "measured",
    at20: () => diameterNm,
    uncertaintyAt: (station) => (station.setTo === name ? station.ofReference : station.ofOther),
  };
}

/**
 * Whether a bore's clearances are taken against the reference lifter in place of its own: because that was not measured,
 * or because it is not known which lifter the micrometer was set to, so that none can be compared with the bore.
 */
export function isStandIn(input: FitInput, bore: SizedBore, finding: BoreFinding): boolean {
  if (finding.lifter === null || !input.lifters.has(finding.lifter)) return true;
  return bore.stations.some(({ setTo }) => setTo === null || !input.lifters.has(setTo));
}

/** The lifter that a bore's clearances are taken against now; the reference lifter where its own was not measured. */
export function lifterNow(input: FitInput, bore: SizedBore, finding: BoreFinding): LifterIn {
  const diameterNm = finding.lifter === null ? undefined : input.lifters.get(finding.lifter);
  if (finding.lifter !== null && diameterNm !== undefined && !isStandIn(input, bore, finding)) {
    return measuredLifter(finding.lifter, diameterNm);
  }
  return {
    name: null,
    known: "stands in",
    at20: ({ ofReference }) => ofReference.setNm,
    uncertaintyAt: ({ ofReference }) => ofReference,
  };
}

/** A lifter still to be bought, as large as its maker says at 20 °C (nm). */
export function boughtLifter(diameterNm: Nm): LifterIn {
  return { name: null, known: "to be bought", at20: () => diameterNm, uncertaintyAt: ({ ofOther }) => ofOther };
}

/** Diameter (nm at 20 °C) of a lifter as it is stated for a bore. */
export function statedDiameter(bore: SizedBore, lifter: LifterIn): Nm {
  const [first] = bore.stations;
  if (first === undefined) throw new RangeError(`no station of ${bore.name}`);
  return toNm(lifter.at20(first));
}
