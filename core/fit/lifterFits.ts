import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import { type Nm, toNm } from "../length/nm.ts";
import type { JudgedStation } from "./advice.ts";
import type { FitInput, Verdict } from "./finding.ts";
import { isPreferred } from "./preferredBand.ts";
import { latestStations, lifterSetAt, type SessionScatter, sessionScatter, stationClearance } from "./stationFit.ts";
import { type Extremes, extremesOf, type Judged, type Judgement, judge } from "./verdict.ts";

/** A station as a size of the bore rather than a clearance. */
export interface SizedStation {
  readonly place: StationPlace;
  readonly tMs: Ms;
  /** The lifter that the micrometer was set to; null when it was not named. */
  readonly setTo: string | null;
  /** Diameter of the bore here, nm at 20 °C, unrounded; as good as the reference lifter's, since the gauge only compares. */
  readonly boreNm: number;
  /** What it says of the lifter that the micrometer was set to: no micrometer scale error enters. */
  readonly ofReference: JudgedStation;
  /** What it says of any other lifter; its `clearanceNm` is that of a lifter of the reference's size. */
  readonly ofOther: JudgedStation;
}

/** A bore measured at every station under a zero that holds. */
export interface SizedBore {
  readonly name: string;
  readonly stations: readonly SizedStation[];
  /** Smallest and largest station diameter, nm at 20 °C. */
  readonly minNm: Nm;
  readonly maxNm: Nm;
}

/** How one lifter would fit one bore, under the session's limits and rule. */
export interface LifterFit {
  readonly clearanceMinNm: Nm;
  readonly clearanceMaxNm: Nm;
  readonly verdict: Exclude<Verdict, "not measured">;
  readonly preferred: boolean;
  /** Probability, 0 … 1, that the verdict is true (for `undecided`: that the bore is inside). */
  readonly confidence: number;
  readonly judgement: Judgement;
  readonly extremes: Extremes;
  /** All of its stations against this lifter, in the order of the job. */
  readonly stations: readonly Judged[];
}

/** Every measured bore and lifter of a session, and how any of the one would fit any of the other. */
export interface LifterFits {
  /** In walk order; bores that lack a station, or whose zero moved, are left out. */
  readonly bores: readonly SizedBore[];
  /** Measured lifters by name, as the micrometer showed them, nm. */
  readonly lifters: ReadonlyMap<string, Nm>;
  /**
   * The fit of a measured lifter, by its name.
   * @throws RangeError for a bore or lifter that is not among `bores` and `lifters`.
   */
  of(bore: string, lifter: string): LifterFit;
  /**
   * The fit of a lifter that was never here, as large as `diameterNm` says (nm, as a micrometer would show it at the
   * lifters' temperature).
   * @throws RangeError for a bore that is not among `bores`.
   */
  ofDiameter(bore: string, diameterNm: number): LifterFit;
}

/**
 * c(i, j) = D_bore(i) − D_lifter(j), each at 20 °C (a lifter as the micrometer showed it), for every pair, judged as a
 * measured bore is: the budget counts the micrometer twice unless the lifter is the one the gauge was zeroed on. The
 * lifter a bore has now (`input.fitted`) does not matter here.
 */
export function lifterFits(input: FitInput): LifterFits {
  const scatter = sessionScatter(input);
  const sized = new Map<string, SizedBore>();
  for (const name of input.bores) {
    const bore = sizeBore(input, scatter, name);
    if (bore !== null) sized.set(name, bore);
  }
  const boreOf = (name: string): SizedBore => {
    const bore = sized.get(name);
    if (bore === undefined)
      throw new RangeError(`no bore ${name} is measured at every station under a zero that holds`);
    return bore;
  };
  const judgeAgainst = (bore: SizedBore, against: readonly Against[], diameterNm: number): LifterFit => {
    const judged = against.map(({ judged, isSet }) => ({
      ...judged,
      ...shifted(judged, isSet ? 0 : judged.setNm - diameterNm),
    }));
    const extremes = extremesOf(judged);
    if (extremes === null) throw new RangeError(`no station of ${bore.name}`);
    const judgement = judge(judged, input.limits, input.rule);
    return {
      clearanceMinNm: toNm(extremes.smallest.clearanceNm),
      clearanceMaxNm: toNm(extremes.largest.clearanceNm),
      verdict: judgement.verdict,
      preferred: isPreferred(extremes, input.limits),
      confidence: judgement.confidence,
      judgement,
      extremes,
      stations: judged,
    };
  };
  return {
    bores: [...sized.values()],
    lifters: input.lifters,
    of(name, lifter) {
      const bore = boreOf(name);
      const diameterNm = input.lifters.get(lifter);
      if (diameterNm === undefined) throw new RangeError(`no lifter ${lifter} is measured`);
      const against = bore.stations.map((station) => {
        const isSet = station.setTo === lifter;
        return { judged: isSet ? station.ofReference : station.ofOther, isSet };
      });
      return judgeAgainst(bore, against, diameterNm);
    },
    ofDiameter(name, diameterNm) {
      const bore = boreOf(name);
      return judgeAgainst(
        bore,
        bore.stations.map(({ ofOther }) => ({ judged: ofOther, isSet: false })),
        diameterNm,
      );
    },
  };
}

interface Against {
  readonly judged: JudgedStation;
  readonly isSet: boolean;
}

/** A lifter of another size moves the clearance and its best estimate alike and no line of the budget. */
function shifted(judged: JudgedStation, byNm: number): Pick<JudgedStation, "clearanceNm" | "value"> {
  return { clearanceNm: judged.clearanceNm + byNm, value: judged.value + byNm };
}

function sizeBore(input: FitInput, scatter: SessionScatter, name: string): SizedBore | null {
  const stations: SizedStation[] = [];
  for (const station of latestStations(input, name)) {
    const ofReference = stationClearance(input, station, scatter, { name: null, diameterNm: null });
    if (ofReference === null) return null;
    const ofOther = stationClearance(input, station, scatter, { name: null, diameterNm: toNm(ofReference.setNm) });
    if (ofOther === null) return null;
    const { place, tMs } = station;
    stations.push({ place, tMs, setTo: lifterSetAt(input, tMs), boreNm: ofReference.boreNm, ofReference, ofOther });
  }
  if (stations.length === 0 || stations.length < input.places.length) return null;
  const diameters = stations.map(({ boreNm }) => boreNm);
  return { name, stations, minNm: toNm(Math.min(...diameters)), maxNm: toNm(Math.max(...diameters)) };
}
