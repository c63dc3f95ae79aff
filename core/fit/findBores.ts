import type { Nm } from "../length/nm.ts";
import { toNm } from "../length/nm.ts";
import { adviceFor, type JudgedStation } from "./advice.ts";
import type { BoreFinding, FitInput, MeasuredStation, StationFinding } from "./finding.ts";
import { type FormFinding, outOfRoundOf, taperOf } from "./form.ts";
import { isPreferred } from "./preferredBand.ts";
import { fittedLifter, latestStations, type SessionScatter, sessionScatter, stationClearance } from "./stationFit.ts";
import { extremesOf, judge } from "./verdict.ts";
import { wearOf } from "./wear.ts";

/** Coverage probability of every stated uncertainty. */
export const COVERAGE = 0.95;

/**
 * Finds every bore of `input.bores`, in that order: station clearances (nm, at 20 °C) with their uncertainty, form, and
 * a verdict. A bore that lacks a station, or whose zero moved or was never taken, is "not measured", and what was
 * measured of it is shown all the same. Lengths are computed unrounded and rounded once.
 */
export function findBores(input: FitInput): BoreFinding[] {
  const scatter = sessionScatter(input);
  return input.bores.map((bore) => findBore(input, bore, scatter));
}

/** The finding of one bore alone, the same as among all of them. */
export function findBore(input: FitInput, bore: string, scatter = sessionScatter(input)): BoreFinding {
  const found = latestStations(input, bore).map((station) => findStation(input, station, scatter));
  const judged = found.flatMap(({ judged }) => (judged === null ? [] : [judged]));
  const extremes = extremesOf(judged);
  const taper = taperOf(judged, input.budget);
  const outOfRound = outOfRoundOf(judged, input.budget);
  const common = {
    name: bore,
    stations: found.map(({ finding }) => finding),
    lifter: judged.every(({ againstLifter }) => againstLifter) ? fittedLifter(input, bore).name : null,
    clearanceMinNm: extremes === null ? null : toNm(extremes.smallest.clearanceNm),
    clearanceMaxNm: extremes === null ? null : toNm(extremes.largest.clearanceNm),
    ...formFields(taper, outOfRound),
  };
  if (extremes === null || judged.length < input.places.length) {
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
  const judgement = judge(judged, input.limits, input.rule);
  return {
    ...common,
    verdict: judgement.verdict,
    preferred: isPreferred(extremes, input.limits),
    confidence: judgement.confidence,
    tooTightProbability: judgement.tooTight,
    tooLooseProbability: judgement.tooLoose,
    advice: judgement.verdict === "undecided" ? adviceFor(input, judged, lifterIn(input, bore)) : null,
    wear: wearOf(judgement.verdict, extremes.largest, input.limits),
  };
}

/** The lifter that goes into a bore where it is another than its own; null for its own. */
function lifterIn(input: FitInput, bore: string): string | null {
  const name = input.fitted?.get(bore) ?? bore;
  return name === bore ? null : name;
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

function findStation(
  input: FitInput,
  station: MeasuredStation,
  scatter: SessionScatter,
): { readonly finding: StationFinding; readonly judged: JudgedStation | null } {
  const judged = stationClearance(input, station, scatter, fittedLifter(input, station.bore));
  return {
    finding: {
      bore: station.bore,
      place: station.place,
      station,
      clearanceNm: judged === null ? null : toNm(judged.clearanceNm),
      uncertaintyNm: judged === null ? null : toNm(judged.budget.expanded),
      coverage: COVERAGE,
      degreesOfFreedom: judged?.budget.degreesOfFreedom ?? 0,
      standardUncertaintyNm: judged?.budget.combined ?? 0,
      budget: judged?.budget.lines ?? [],
    },
    judged,
  };
}
