import type { Sends } from "../gauge/profile.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { grubbsOutlier } from "./grubbs.ts";
import { median, medianOfSorted } from "./median.ts";
import type { AgreementRule, Pass, SetAsideReason, Sweep } from "./sweep.ts";
import { type TurningPoint, turningPoints } from "./turningPoint.ts";

/** A pass at a station and whether the operator struck it. */
export interface StationPass {
  readonly pass: Pass;
  readonly struck: boolean;
}

/** What the passes at one station say together. */
export interface StationJudgement {
  /** One for each pass, in the same order. */
  readonly sweeps: Sweep[];
  readonly closed: boolean;
  /** Twelve sweeps or more without agreement; the station stays open and may still close. */
  readonly noAgreement: boolean;
  /** From all kept sweeps, nm; an estimate while open; null without any. */
  readonly valueNm: Nm | null;
  /** Range of the kept sweeps, nm, not negative; null without any. */
  readonly spreadNm: Nm | null;
  /** Turning points of the sweeps that were looked through without finding an agreement, nm; none once closed. */
  readonly disagreeing: readonly number[];
}

/** A pass needs this many readings to show where it turned. */
export const FEWEST_SAMPLES = 4;
/** So many sweeps without agreement and the place must be looked at. */
const NO_AGREEMENT_SWEEPS = 12;
/** A press so many times the agreement below those that agreed was not reached again. */
const SHORT_PRESS = 2;
/** One sweep in so many may be an outlier; the test needs as many. */
const OUTLIER_SWEEPS = 5;

/**
 * Judges the passes of one station, in the order they were made.
 *
 * The station closes with the first pass at which its last `sweepsPerStation` usable sweeps lie within `agreementNm` of
 * each other (included). Later passes join as long as they lie within `agreementNm` of the value so far; others are
 * set aside as `disagrees`. The value comes from all kept sweeps: the median of turning points for `stream`, of presses
 * for `held`, the smallest press for `press`, whose errors are one-sided: a cocked gauge can only read long.
 *
 * Outliers are found by Grubbs' test. Our choice: one that lies within the agreement of the median is none, since rounding
 * can make its fellows look closer than they are; and at most one sweep in five may go that way, so that an agreement can
 * not be made by throwing away whatever disagrees. Sweeps made before the agreement that would give a value which no
 * agreeing sweep supports are set aside as `disagrees`: such a value proves nothing (see `standing`).
 *
 * `closedBefore`: how many passes there were when the station was first announced as closed, null if it has not been.
 * It stays closed from there on even if turning points shift a little as later passes refine the rhythm. It is judged
 * anew, and may be open again, if one of the passes that closed it was struck since, or if so few of them still agree
 * that no station would have closed on them.
 *
 * `before`: what was judged of the passes so far, if anything; it saves looking through the same sweeps again and
 * changes nothing.
 */
export function judgeStation(
  passes: readonly StationPass[],
  sends: Sends,
  rule: AgreementRule,
  resolutionNm: Nm,
  closedBefore: number | null,
  before: StationJudgement | null = null,
): StationJudgement {
  const sweeps = sweepsOf(passes, resolutionNm);
  const usable: number[] = [];
  for (const [index, sweep] of sweeps.entries()) if (sweep.use === "kept") usable.push(index);
  const value = (index: number): number => (sweeps[index] as Sweep).turningPointNm;

  const latched = closedBefore !== null && !passes.slice(0, closedBefore).some((entry) => entry.struck);
  let closedAt: number | null = null;
  if (latched) {
    const count = usable.filter((index) => index < closedBefore).length;
    if (count < rule.sweepsPerStation) return judgeStation(passes, sends, rule, resolutionNm, null, before);
    closedAt = count;
  } else {
    const first = Math.max(rule.sweepsPerStation, alike(before?.disagreeing ?? [], usable.map(value)) + 1);
    for (let count = first; count <= usable.length && closedAt === null; count += 1) {
      const { kept } = withoutOutliers(usable.slice(0, count), value, rule);
      // The newest sweep must itself be among those that agree: a station never closes on a sweep set aside.
      if (kept.at(-1) !== usable[count - 1]) continue;
      if (agrees(kept.slice(-rule.sweepsPerStation).map(value), rule)) closedAt = count;
    }
  }

  const asides = new Map<number, SetAsideReason>();
  let kept: number[];
  if (closedAt === null) {
    const judged = withoutOutliers(usable, value, rule);
    for (const index of judged.outliers) asides.set(index, "outlier");
    kept = judged.kept;
  } else {
    const judged = withoutOutliers(usable.slice(0, closedAt), value, rule);
    for (const index of judged.outliers) asides.set(index, "outlier");
    kept = judged.kept;
    const closing = kept.slice(-rule.sweepsPerStation).map(value);
    const stands = standing(closing, kept.map(value), sends, rule);
    for (const index of kept) if (!stands(value(index))) asides.set(index, "disagrees");
    kept = kept.filter((index) => stands(value(index)));
    const rising = kept.map(value).sort((a, b) => a - b);
    for (const index of usable.slice(closedAt)) {
      const soFar = sends === "press" ? (rising[0] as number) : medianOfSorted(rising);
      if (Math.abs(value(index) - soFar) <= rule.agreementNm) {
        kept.push(index);
        insert(rising, value(index));
      } else asides.set(index, "disagrees");
    }
    // More sweeps can show what fewer could not: one from before the agreement that lies far from all others.
    const again = withoutOutliers(kept, value, rule);
    for (const index of again.outliers) asides.set(index, "outlier");
    kept = again.kept;
  }

  // Refined turning points can show that the sweeps which closed the station never agreed: then it was none.
  if (latched && kept.length < rule.sweepsPerStation) {
    return judgeStation(passes, sends, rule, resolutionNm, null, before);
  }

  const values = kept.map(value);
  return {
    sweeps: sweeps.map((sweep, index) => {
      const why = asides.get(index);
      return why === undefined ? sweep : { ...sweep, use: "set aside", why };
    }),
    closed: closedAt !== null,
    noAgreement: closedAt === null && usable.length >= NO_AGREEMENT_SWEEPS,
    valueNm: values.length === 0 ? null : toNm(stationValue(values, sends)),
    spreadNm: values.length === 0 ? null : toNm(Math.max(...values) - Math.min(...values)),
    disagreeing: closedAt === null ? usable.map(value) : [],
  };
}

function stationValue(values: readonly number[], sends: Sends): number {
  return sends === "press" ? Math.min(...values) : median(values);
}

/** How many of the first values of two lists are the same. */
function alike(one: readonly number[], other: readonly number[]): number {
  let count = 0;
  while (count < one.length && one[count] === other[count]) count += 1;
  return count;
}

/** Puts a value into its place in a rising list. */
function insert(rising: number[], value: number): void {
  let at = rising.length;
  while (at > 0 && (rising[at - 1] as number) > value) at -= 1;
  rising.splice(at, 0, value);
}

function agrees(values: readonly number[], rule: AgreementRule): boolean {
  return Math.max(...values) - Math.min(...values) <= rule.agreementNm;
}

/**
 * Which of the sweeps made up to the agreement count beside those that agreed: all of them, mostly. Otherwise a value
 * would stand that no agreeing sweep supports: for `stream` and `held` if the median is not among those that agreed,
 * and then only what agrees with them counts; for `press` a single short press far below what was reached again and
 * again (our choice: twice the agreement), be it a spike or an off-centre gauge.
 */
function standing(
  agreed: readonly number[],
  all: readonly number[],
  sends: Sends,
  rule: AgreementRule,
): (candidate: number) => boolean {
  if (sends === "press") {
    const floor = Math.min(...agreed) - SHORT_PRESS * rule.agreementNm;
    return (candidate) => candidate >= floor || all.filter((other) => near(other, candidate, rule)).length > 1;
  }
  if (supports(agreed, median(all), rule)) return () => true;
  return (candidate) => supports(agreed, candidate, rule);
}

function near(a: number, b: number, rule: AgreementRule): boolean {
  return Math.abs(a - b) <= rule.agreementNm;
}

/** Whether `candidate` lies within the agreement of every one of the sweeps that agreed. */
function supports(agreed: readonly number[], candidate: number, rule: AgreementRule): boolean {
  return agreed.every((value) => near(value, candidate, rule));
}

/** Takes outliers out one at a time, at most one in five, and never below what an agreement needs. */
function withoutOutliers(indices: readonly number[], value: (index: number) => number, rule: AgreementRule) {
  const kept = [...indices];
  const outliers: number[] = [];
  const allowed = Math.floor(indices.length / OUTLIER_SWEEPS);
  while (outliers.length < allowed && kept.length > rule.sweepsPerStation) {
    const values = kept.map(value);
    const found = grubbsOutlier(values);
    // Rounding can make the others look closer than they are: what agrees with them is no outlier.
    if (found === null || near(values[found] as number, median(values), rule)) break;
    outliers.push(...kept.splice(found, 1));
  }
  return { kept, outliers };
}

/** Each pass as a sweep: struck, set aside for what can be seen in the pass alone, or kept until judged together. */
function sweepsOf(passes: readonly StationPass[], resolutionNm: Nm): Sweep[] {
  const asides = passes.map(({ pass }) => setAside(pass));
  const together: Pass[] = [];
  for (const [index, { pass, struck }] of passes.entries()) {
    if (!struck && asides[index] === null) together.push(pass);
  }
  const fitted = turningPoints(together, resolutionNm);
  let next = 0;
  return passes.map(({ pass, struck }, index) => {
    const aside = asides[index] ?? null;
    const found = struck || aside !== null ? turningPoints([pass], resolutionNm)[0] : fitted[next++];
    const point = found as TurningPoint;
    const sweep = {
      tMs: point.tMs,
      rawMinNm: point.rawMinNm,
      turningPointNm: point.turningPointNm,
      samples: pass.samples.length,
      method: point.method,
      ...(point.methodWhy === undefined ? {} : { methodWhy: point.methodWhy }),
      ...(pass.typed === undefined ? {} : { typed: pass.typed }),
    };
    if (struck) return { ...sweep, use: "struck" as const };
    if (aside !== null) return { ...sweep, use: "set aside" as const, why: aside };
    // The display was too slow for this pass, whatever its count of readings.
    if (!point.supported) return { ...sweep, use: "set aside" as const, why: "too-quick" as const };
    return { ...sweep, use: "kept" as const };
  });
}

function setAside(pass: Pass): SetAsideReason | null {
  if (pass.end === "press" || pass.end === "held") return null;
  if (pass.end === "contact-lost") return "contact-lost";
  return pass.samples.length < FEWEST_SAMPLES ? "too-quick" : null;
}
