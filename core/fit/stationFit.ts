import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { JudgedReference } from "../zero/reference.ts";
import { type ZeroAt, zeroAt } from "../zero/zeroAt.ts";
import type { JudgedStation } from "./advice.ts";
import { bestEstimate } from "./bestEstimate.ts";
import { type Budget, stationBudget } from "./budget.ts";
import type { FitInput, MeasuredStation } from "./finding.ts";
import { keptTurningPoints, type Repeatability, repeatabilityOf, stationRepeatability } from "./repeatability.ts";
import { resolutionUncertainty } from "./resolution.ts";
import { clearanceAt20, temperaturesAt } from "./temperature.ts";

/** What the whole session says of single sweeps, in the bores and in the micrometer. */
export interface SessionScatter {
  readonly bore: Repeatability;
  readonly zero: Repeatability;
  /** Standard uncertainties from the display's graduation, nm. */
  readonly resolutionBore: number;
  readonly resolutionZero: number;
}

/** Sweeps in the bores and in the micrometer are pooled apart: the gauge rocks in two planes in the one, in one in the other. */
export function sessionScatter(input: FitInput): SessionScatter {
  const groups = (measured: readonly { readonly sweeps: MeasuredStation["sweeps"] }[]) =>
    measured.map(({ sweeps }) => keptTurningPoints(sweeps));
  const bore = repeatabilityOf(groups(input.stations), input.sends, input.resolutionNm);
  const zero = repeatabilityOf(groups(input.references), input.sends, input.resolutionNm);
  return {
    bore,
    zero,
    resolutionBore: resolutionUncertainty(input.resolutionNm, input.sends, bore.scatterNm),
    resolutionZero: resolutionUncertainty(input.resolutionNm, input.sends, zero.scatterNm),
  };
}

/** The lifter that a clearance is taken against. */
export interface FittedLifter {
  /** Named after the bore it was measured for; null for the reference lifter, or for one that was never here. */
  readonly name: string | null;
  /** As the micrometer showed it, nm; null when it was not measured: then the reference lifter stands for it. */
  readonly diameterNm: Nm | null;
}

/** The lifter meant for a bore: its own unless the pairing says otherwise; the reference lifter where it was not measured. */
export function fittedLifter(input: Pick<FitInput, "fitted" | "lifters">, bore: string): FittedLifter {
  const name = input.fitted?.get(bore) ?? bore;
  const diameterNm = input.lifters.get(name) ?? null;
  return { name: diameterNm === null ? null : name, diameterNm };
}

/** The stations of a bore as they were measured last, in the order of the job's places; fewer while some are missing. */
export function latestStations(input: FitInput, bore: string): MeasuredStation[] {
  return input.places.flatMap((place) => latestStation(input.stations, bore, place) ?? []);
}

/** A station measured again counts as it was measured last. */
function latestStation(
  stations: readonly MeasuredStation[],
  bore: string,
  place: StationPlace,
): MeasuredStation | null {
  let latest: MeasuredStation | null = null;
  for (const station of stations) {
    if (station.bore !== bore || station.place.height !== place.height || station.place.clock !== place.clock) continue;
    if (latest === null || station.tMs >= latest.tMs) latest = station;
  }
  return latest;
}

/** What a finding is computed from, but for the stations. */
type Frame = Omit<FitInput, "stations">;

/** A reading in a bore against the zero in force: c = g·(r_bore − r_zero) + (D_set − D_lifter), at 20 °C. */
function against(input: Frame, { tMs, valueNm }: Pick<MeasuredStation, "tMs" | "valueNm">, lifter: FittedLifter) {
  const zero = zeroAt(input.references, tMs);
  if (zero.state === "none" || zero.state === "moved") return null;
  const set = settingOf(input, zero);
  const pair = lifterPair(input, set.lifter, lifter);
  const temperature = temperaturesAt(input, tMs, set.tMs);
  const differenceNm = input.gain * (valueNm - zero.valueNm);
  const clearanceNm = clearanceAt20(pair.setNm, differenceNm, pair.bracketNm, input.materials, temperature);
  return { zero, pair, temperature, differenceNm, clearanceNm };
}

/** The clearance alone of a reading (nm, polarity applied) at a time, nm; null when no zero in force holds for it. */
export function clearanceOf(
  input: Frame,
  reading: Pick<MeasuredStation, "tMs" | "valueNm">,
  lifter: FittedLifter,
): number | null {
  return against(input, reading, lifter)?.clearanceNm ?? null;
}

/**
 * What a station says of a lifter: its clearance with its budget. Null when no zero in force holds for it (not zeroed, or
 * the zero moved).
 */
export function stationClearance(
  input: FitInput,
  station: MeasuredStation,
  scatter: SessionScatter,
  lifter: FittedLifter,
): JudgedStation | null {
  const measured = against(input, station, lifter);
  if (measured === null) return null;
  const { zero, pair, temperature, differenceNm, clearanceNm } = measured;
  const count = Math.max(1, keptTurningPoints(station.sweeps).length);
  const repeatability = {
    u: stationRepeatability(scatter.bore, count),
    degreesOfFreedom: scatter.bore.degreesOfFreedom,
  };
  const budget: Budget = stationBudget({
    station: repeatability,
    zero: { u: zeroRepeatability(zero, station, scatter.zero), degreesOfFreedom: scatter.zero.degreesOfFreedom },
    sends: input.sends,
    resolutionBore: scatter.resolutionBore,
    resolutionZero: scatter.resolutionZero,
    ...(input.sampling === undefined ? {} : { sampling: input.sampling }),
    driftHalfWidthNm: driftHalfWidth(input, zero),
    otherLifter: pair.other,
    gain: input.gain,
    micrometerResolutionNm: input.micrometerResolutionNm,
    diameterNm: pair.setNm,
    materials: input.materials,
    temperature,
    budget: input.budget,
  });
  const weight = Math.abs(input.gain);
  return {
    place: station.place,
    clearanceNm,
    ...bestEstimate(clearanceNm, budget.lines, input.budget.centringNm),
    repeatability: { u: weight * repeatability.u, degreesOfFreedom: repeatability.degreesOfFreedom },
    resolution: weight * scatter.resolutionBore,
    budget,
    sweeps: count,
    scatter: scatter.bore,
    temperature,
    againstLifter: pair.known,
    zeroChecked: zero.state === "held",
    setNm: pair.setNm,
    // What the micrometer shows of a lifter is that lifter's size at 20 °C (`clearanceAt20`), so the bore's lies over it.
    boreNm: pair.setNm + clearanceAt20(pair.setNm, differenceNm, 0, input.materials, temperature),
  };
}

/** The lifter that the micrometer was set to for what was measured at `tMs`; null when it was not named, or nothing was set. */
export function lifterSetAt(input: FitInput, tMs: Ms): string | null {
  const zero = zeroAt(input.references, tMs);
  return zero.state === "none" || zero.state === "moved" ? null : settingOf(input, zero).lifter;
}

type ZeroInForce = Extract<ZeroAt, { readonly valueNm: number }>;

/** The zero at which the micrometer was set: a return check measures it again and sets nothing. */
function settingOf(input: Frame, zero: ZeroInForce): JudgedReference {
  const { before } = zero;
  return input.references.findLast(({ kind, tMs }) => kind === "zero" && tMs <= before.tMs) ?? before;
}

/**
 * The lifter the micrometer was set to and the one meant for the bore; the bracket is 0 unless both are known and differ.
 * `known`: the clearance is against the one that is meant, and not against whatever the micrometer was set to.
 */
function lifterPair(input: Frame, set: string | null, lifter: FittedLifter) {
  const setNm = set === null ? undefined : input.lifters.get(set);
  const { name, diameterNm } = lifter;
  // A lifter that was never here is given by its size alone, and the reference by its nominal size if it must be.
  const known = diameterNm !== null && (name === null || setNm !== undefined);
  const other = known && (name === null || name !== set);
  const reference = setNm ?? input.nominalLifterNm;
  return { setNm: reference, bracketNm: other ? reference - diameterNm : 0, other, known };
}

/**
 * The zero is interpolated between its two checks, so each counts with its weight. Errors of presses lie on one side, so
 * that their means add as they are: of exponential errors with root mean squares u₁ and u₂, whose means are u/√2, the sum
 * has √((u₁ + u₂)² + u₁² + u₂²)/√2 (derived here; with one check that is u₁).
 */
function zeroRepeatability(zero: ZeroInForce, station: MeasuredStation, scatter: Repeatability): number {
  const of = (sweeps: MeasuredStation["sweeps"]) =>
    stationRepeatability(scatter, Math.max(1, keptTurningPoints(sweeps).length));
  const { before, after } = zero;
  if (after === null) return of(before.sweeps);
  const weight = (station.tMs - before.tMs) / (after.tMs - before.tMs);
  const parts = [(1 - weight) * of(before.sweeps), weight * of(after.sweeps)] as const;
  if (scatter.sends !== "press") return Math.hypot(...parts);
  return Math.hypot(parts[0] + parts[1], ...parts) / Math.SQRT2;
}

/**
 * Half of the return between the two checks, nm. Until the next check the zero is expected to drift as much as it did
 * between earlier ones that held; nothing is known before the first.
 */
function driftHalfWidth(input: FitInput, zero: ZeroInForce): number {
  if (zero.after !== null) return zero.driftNm / 2;
  const returns = input.references.flatMap(({ kind, held, returnNm, tMs }) =>
    kind === "return" && held && tMs <= zero.before.tMs ? [Math.abs(returnNm)] : [],
  );
  return Math.max(0, ...returns) / 2;
}
