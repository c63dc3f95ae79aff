import type { StationPlace } from "../block/layout.ts";
import { type Nm, toNm } from "../length/nm.ts";
import type { JudgedReference } from "../zero/reference.ts";
import { type ZeroAt, zeroAt } from "../zero/zeroAt.ts";
import { adviceFor, type JudgedStation } from "./advice.ts";
import { bestEstimate } from "./bestEstimate.ts";
import { type Budget, stationBudget } from "./budget.ts";
import type { BoreFinding, FitInput, MeasuredStation, StationFinding } from "./finding.ts";
import { type FormFinding, outOfRoundOf, taperOf } from "./form.ts";
import { preferredBand } from "./preferredBand.ts";
import { keptTurningPoints, type Repeatability, repeatabilityOf, stationRepeatability } from "./repeatability.ts";
import { resolutionUncertainty } from "./resolution.ts";
import { clearanceAt20, temperaturesAt } from "./temperature.ts";
import { judge } from "./verdict.ts";
import { wearOf } from "./wear.ts";

/** Coverage probability of every stated uncertainty. */
export const COVERAGE = 0.95;

/** What the whole session says of single sweeps, in the bores and in the micrometer. */
interface SessionScatter {
  readonly bore: Repeatability;
  readonly zero: Repeatability;
  /** Standard uncertainties from the display's graduation, nm. */
  readonly resolutionBore: number;
  readonly resolutionZero: number;
}

/**
 * Finds every bore of `input.bores`, in that order: station clearances (nm, at 20 °C) with their uncertainty, form, and
 * a verdict. A bore that lacks a station, or whose zero moved or was never taken, is "not measured", and what was
 * measured of it is shown all the same. Lengths are computed unrounded and rounded once.
 */
export function findBores(input: FitInput): BoreFinding[] {
  const scatter = sessionScatter(input);
  return input.bores.map((bore) => findBore(input, bore, scatter));
}

/** Sweeps in the bores and in the micrometer are pooled apart: the gauge rocks in two planes in the one, in one in the other. */
function sessionScatter(input: FitInput): SessionScatter {
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

function findBore(input: FitInput, bore: string, scatter: SessionScatter): BoreFinding {
  const found = input.places.flatMap((place) => {
    const station = latestStation(input.stations, bore, place);
    return station === null ? [] : [findStation(input, station, scatter)];
  });
  const judged = found.flatMap(({ judged }) => (judged === null ? [] : [judged]));
  const sorted = [...judged].sort((a, b) => a.clearanceNm - b.clearanceNm);
  const smallest = sorted[0];
  const largest = sorted[sorted.length - 1];
  const taper = taperOf(judged, input.budget);
  const outOfRound = outOfRoundOf(judged, input.budget);
  const common = {
    name: bore,
    stations: found.map(({ finding }) => finding),
    clearanceMinNm: smallest === undefined ? null : toNm(smallest.clearanceNm),
    clearanceMaxNm: largest === undefined ? null : toNm(largest.clearanceNm),
    ...formFields(taper, outOfRound),
  };
  if (smallest === undefined || largest === undefined || judged.length < input.places.length) {
    return {
      ...common,
      verdict: "not measured",
      preferred: false,
      confidence: null,
      tooTightProbability: null,
      tooLooseProbability: null,
      advice: null,
      wear: null,
    };
  }
  const judgement = judge({ smallest, largest }, input.limits, input.rule);
  const band = preferredBand(input.limits);
  return {
    ...common,
    verdict: judgement.verdict,
    preferred: smallest.clearanceNm >= band.lowNm && largest.clearanceNm <= band.highNm,
    confidence: judgement.confidence,
    tooTightProbability: judgement.tooTight,
    tooLooseProbability: judgement.tooLoose,
    advice: judgement.verdict === "undecided" ? adviceFor(input, judged) : null,
    wear: wearOf(judgement.verdict, largest, input.limits),
  };
}

function formFields(taper: FormFinding | null, outOfRound: FormFinding | null) {
  const rounded = (value: number | undefined): Nm | null => (value === undefined ? null : toNm(value));
  return {
    taperNm: rounded(taper?.value),
    taperUncertaintyNm: rounded(taper?.expanded),
    outOfRoundNm: rounded(outOfRound?.value),
    outOfRoundUncertaintyNm: rounded(outOfRound?.expanded),
  };
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

function findStation(
  input: FitInput,
  station: MeasuredStation,
  scatter: SessionScatter,
): { readonly finding: StationFinding; readonly judged: JudgedStation | null } {
  const zero = zeroAt(input.references, station.tMs);
  if (zero.state === "none" || zero.state === "moved") {
    return {
      finding: {
        bore: station.bore,
        place: station.place,
        station,
        clearanceNm: null,
        uncertaintyNm: null,
        coverage: COVERAGE,
        degreesOfFreedom: 0,
        standardUncertaintyNm: 0,
        budget: [],
      },
      judged: null,
    };
  }
  const judged = judgeStation(input, station, zero, scatter);
  return {
    finding: {
      bore: station.bore,
      place: station.place,
      station,
      clearanceNm: toNm(judged.clearanceNm),
      uncertaintyNm: toNm(judged.budget.expanded),
      coverage: COVERAGE,
      degreesOfFreedom: judged.budget.degreesOfFreedom,
      standardUncertaintyNm: judged.budget.combined,
      budget: judged.budget.lines,
    },
    judged,
  };
}

/** c = g·(r_bore − r_zero) + (D_set − D_lifter), at 20 °C; readings carry their polarity already. */
function judgeStation(
  input: FitInput,
  station: MeasuredStation,
  zero: ZeroInForce,
  scatter: SessionScatter,
): JudgedStation {
  const set = settingOf(input, zero);
  const lifters = lifterPair(input, station.bore, set.lifter);
  const temperature = temperaturesAt(input, station.tMs, set.tMs);
  const differenceNm = input.gain * (station.valueNm - zero.valueNm);
  const clearanceNm = clearanceAt20(lifters.setNm, differenceNm, lifters.bracketNm, input.materials, temperature);
  const count = Math.max(1, keptTurningPoints(station.sweeps).length);
  const repeatability = {
    u: stationRepeatability(scatter.bore, count),
    degreesOfFreedom: scatter.bore.degreesOfFreedom,
  };
  const budget: Budget = stationBudget({
    station: repeatability,
    zero: { u: zeroRepeatability(zero, station, scatter.zero), degreesOfFreedom: scatter.zero.degreesOfFreedom },
    resolutionBore: scatter.resolutionBore,
    resolutionZero: scatter.resolutionZero,
    driftHalfWidthNm: driftHalfWidth(input, zero),
    otherLifter: lifters.other,
    gain: input.gain,
    micrometerResolutionNm: input.micrometerResolutionNm,
    diameterNm: lifters.setNm,
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
    zeroChecked: zero.state === "held",
    setNm: lifters.setNm,
  };
}

type ZeroInForce = Extract<ZeroAt, { readonly valueNm: number }>;

/** The zero at which the micrometer was set: a return check measures it again and sets nothing. */
function settingOf(input: FitInput, zero: ZeroInForce): JudgedReference {
  const { before } = zero;
  if (before.kind === "zero") return before;
  return input.references.findLast(({ kind, tMs }) => kind === "zero" && tMs <= before.tMs) ?? before;
}

/** The lifter the micrometer was set to and the one meant for this bore; the bracket is 0 unless both are known. */
function lifterPair(input: FitInput, bore: string, set: string | null) {
  const setNm = set === null ? undefined : input.lifters.get(set);
  const ownNm = input.lifters.get(bore);
  const other = setNm !== undefined && ownNm !== undefined && set !== bore;
  return { setNm: setNm ?? input.nominalLifterNm, bracketNm: other ? setNm - ownNm : 0, other };
}

/** The zero is interpolated between its two checks, so each counts with its weight. */
function zeroRepeatability(zero: ZeroInForce, station: MeasuredStation, scatter: Repeatability): number {
  const of = (sweeps: MeasuredStation["sweeps"]) =>
    stationRepeatability(scatter, Math.max(1, keptTurningPoints(sweeps).length));
  const { before, after } = zero;
  if (after === null || after.tMs <= before.tMs) return of(before.sweeps);
  const weight = Math.min(1, Math.max(0, (station.tMs - before.tMs) / (after.tMs - before.tMs)));
  return Math.hypot((1 - weight) * of(before.sweeps), weight * of(after.sweeps));
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
