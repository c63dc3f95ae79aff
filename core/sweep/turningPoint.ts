import type { Ms } from "../gauge/ms.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { evenStamps } from "./evenStamps.ts";
import { median } from "./median.ts";
import { parabolaVertex } from "./parabolaFit.ts";
import { fitRhythm, type RhythmFit } from "./rhythmFit.ts";
import type { Pass, Sample, TurningPointMethod } from "./sweep.ts";

/** Where one pass turned. */
export interface TurningPoint {
  /** Nm, signed; equals `rawMinNm` when `method` is `raw`. */
  readonly turningPointNm: Nm;
  /** Smallest sample, nm, signed. */
  readonly rawMinNm: Nm;
  /** Time of the smallest sample, the first of equals. */
  readonly tMs: Ms;
  readonly method: TurningPointMethod;
  readonly methodWhy?: string;
  /**
   * False if even with its neighbours the readings of this pass do not settle where it turned: the display is too slow
   * for the rocking there, and what it shows is not worth keeping.
   */
  readonly supported: boolean;
}

/** Passes reported from one fit, and how many before them it also looks at: a long rocking costs no more and no less. */
const BLOCK = 8;
const BEFORE = 4;
/** Passes further apart than so many usual intervals do not follow each other. */
const APART = 2.5;
/** A turning point known less well than this, one standard deviation, is not known, µm. */
const LARGEST_DEVIATION_UM = 4;
/** Residuals so much larger than the model expects, and than those of the other passes, are a poor fit. */
const LARGEST_MISFIT = 3;
/** A turning point is below the smallest reading by at most this share of its higher side (four readings a pass: sin²(π/8), and more). */
const LARGEST_DROP_SHARE = 0.3;
/** And above it by no more than noise and rounding explain, µm and steps of the display. */
const LARGEST_RISE_UM = 1.2;
/** Where the parabola is fitted: the lowest part of the pass. */
const PARABOLA_SHARE = 0.25;
const FEWEST_PARABOLA = 3;
/** With so many passes in a fit, what one of them lacks is not to be hoped for from neighbours to come. */
const FEWEST_NEIGHBOURS = 3;
/** A rhythm takes so many readings a pass. */
const FEWEST_READINGS = 4;
/** RMS error of a time stamp whose line delays it, and of one that does not, ms. */
const LATE_STAMP_MS = 2;
const GOOD_STAMP_MS = 0.5;

/**
 * Turning points of consecutive passes of one gauge, one for each, in the same order. Passes that follow each other
 * without a gap are fitted together by the rhythm model; a parabola through the lowest readings is the fallback, and the
 * smallest reading the last resort, with the reason in `methodWhy`. Presses and sweeps taken by hand are their smallest
 * reading.
 * Shifting all readings by whole nanometres shifts the results exactly; shifting all times changes nothing.
 * @throws RangeError if a pass has no sample.
 */
export function turningPoints(passes: readonly Pass[], resolutionNm: Nm): TurningPoint[] {
  const points = passes.map(smallest);
  for (const run of runsOf(passes)) {
    for (let from = 0; from < run.length; from += BLOCK) {
      const first = Math.max(0, from - BEFORE);
      const block = run.slice(first, from + BLOCK);
      const answers = fitOnce(
        block.map((index) => passes[index] as Pass),
        from - first,
        resolutionNm,
      );
      for (const [n, index] of block.entries()) {
        if (first + n < from) continue;
        points[index] = { ...(points[index] as TurningPoint), ...(answers[n] as Answer) };
      }
    }
  }
  return points;
}

type Answer = Pick<TurningPoint, "turningPointNm" | "method" | "methodWhy" | "supported">;

/** The last fit of each block, by the first pass that it reports. */
const lastFits = new WeakMap<
  Pass,
  { readonly passes: readonly Pass[]; readonly resolutionNm: Nm; readonly answers: readonly Answer[] }
>();

/**
 * `fitBlock`, unless the last fit of that block was of the same passes: a station is judged again with each pass, and
 * only its last block is then another. A pass never changes, so being the same one is enough.
 */
function fitOnce(passes: readonly Pass[], reported: number, resolutionNm: Nm): readonly Answer[] {
  const key = passes[reported] as Pass;
  const last = lastFits.get(key);
  if (
    last !== undefined &&
    last.resolutionNm === resolutionNm &&
    last.passes.length === passes.length &&
    last.passes.every((pass, index) => pass === passes[index])
  ) {
    return last.answers;
  }
  const answers = fitBlock(passes, resolutionNm);
  lastFits.set(key, { passes, resolutionNm, answers });
  return answers;
}

function smallest(pass: Pass): TurningPoint {
  const lowest = lowestOf(pass);
  const raw = {
    rawMinNm: lowest.valueNm,
    turningPointNm: lowest.valueNm,
    tMs: lowest.tMs,
    method: "raw" as const,
    supported: true,
  };
  if (pass.end === "taken") return { ...raw, methodWhy: "taken by hand" };
  if (pass.end === "contact-lost") return { ...raw, methodWhy: "contact lost" };
  return raw;
}

/** The smallest reading of each pass that was looked at: every judgement asks for it again. */
const lowestSamples = new WeakMap<Pass, Sample>();

function lowestOf(pass: Pass): Sample {
  const known = lowestSamples.get(pass);
  if (known !== undefined) return known;
  let lowest = pass.samples[0];
  if (lowest === undefined) throw new RangeError("a pass needs at least one sample");
  for (const sample of pass.samples) if (sample.valueNm < lowest.valueNm) lowest = sample;
  lowestSamples.set(pass, lowest);
  return lowest;
}

/** Indices of the passes that can be fitted, in runs that follow each other without a gap. */
function runsOf(passes: readonly Pass[]): number[][] {
  const runs: number[][] = [];
  for (const [index, pass] of passes.entries()) {
    if (pass.end !== "turned" && pass.end !== "stopped" && pass.end !== "withdrawn") continue;
    const before = passes[index - 1];
    if (before === undefined || !follows(before, pass)) runs.push([]);
    (runs.at(-1) as number[]).push(index);
  }
  return runs;
}

function follows(before: Pass, pass: Pass): boolean {
  if (before.end !== "turned") return false;
  const from = (before.samples[0] as Sample).tMs;
  const to = (before.samples.at(-1) as Sample).tMs;
  const interval = (to - from) / Math.max(1, before.samples.length - 1);
  const gap = (pass.samples[0] as Sample).tMs - to;
  return gap >= 0 && gap <= APART * interval;
}

/** A fit and the level that its readings were counted from. */
interface Fitted {
  readonly fit: RhythmFit;
  readonly levelNm: number;
}

function fitBlock(passes: readonly Pass[], resolutionNm: Nm): Answer[] {
  const fitted = bestFit(passes, resolutionNm);
  if (fitted === null) return passes.map((pass) => fallback(pass, NO_RHYTHM, resolutionNm));
  const doubts = passes.map((pass, index) => doubt(pass, fitted, index, resolutionNm));
  if (!doubts.includes(NO_ROCKING) || !doubts.includes(null)) {
    return passes.map((pass, index) => answer(pass, fitted, index, resolutionNm));
  }
  // A pass that is no rocking spoils the rhythm of its neighbours: fit again what lies between such passes.
  const answers: Answer[] = [];
  let from = 0;
  while (from < passes.length) {
    let to = from + 1;
    if (doubts[from] === NO_ROCKING) {
      answers.push(fallback(passes[from] as Pass, NO_ROCKING, resolutionNm));
    } else {
      while (to < passes.length && doubts[to] !== NO_ROCKING) to += 1;
      const part = passes.slice(from, to);
      const again = bestFit(part, resolutionNm);
      for (const [n, pass] of part.entries()) {
        answers.push(answer(pass, again, n, resolutionNm));
      }
    }
    from = to;
  }
  return answers;
}

function answer(pass: Pass, fitted: Fitted | null, index: number, resolutionNm: Nm): Answer {
  if (fitted === null) return fallback(pass, NO_RHYTHM, resolutionNm);
  const { fit, levelNm } = fitted;
  const why = doubt(pass, fitted, index, resolutionNm);
  if (why !== null) {
    const other = fallback(pass, why, resolutionNm);
    const alone = fit.squareUm.length < FEWEST_NEIGHBOURS;
    return { ...other, supported: why !== FEW_NEAR_SQUARE || alone || other.method === "parabola" };
  }
  // Rounded before the level is added, so that a shift of all readings shifts the result exactly.
  const square = Math.round((fit.squareUm[index] as number) * 1000);
  return { turningPointNm: toNm(levelNm + square), method: "rhythm", supported: true };
}

const NO_RHYTHM = "no rocking rhythm";
const FEW_NEAR_SQUARE = "too few readings near square";
const NO_ROCKING = "the readings do not follow a rocking";

/** The fit whose view of the time stamps explains the readings best: they are true, late, or scatter about even times. */
function bestFit(passes: readonly Pass[], resolutionNm: Nm): Fitted | null {
  const samples = passes.flatMap((pass) => pass.samples);
  if (samples.length < FEWEST_READINGS * passes.length) return null;
  const starts: number[] = [];
  let count = 0;
  for (const pass of passes) {
    starts.push(count);
    count += pass.samples.length;
  }
  const beginMs = (samples[0] as Sample).tMs;
  const levelNm = (samples[0] as Sample).valueNm;
  // Microseconds are fine enough, and make the result independent of when the session began.
  const tMs = Float64Array.from(samples, (sample) => Math.round((sample.tMs - beginMs) * 1000) / 1000);
  const um = Float64Array.from(samples, (sample) => (sample.valueNm - levelNm) / 1000);
  const resolutionUm = resolutionNm / 1000;
  const fits = [fitRhythm({ tMs, um, starts }, resolutionUm, GOOD_STAMP_MS)];
  const even = evenStamps(tMs);
  if (even === null || even.scatterMs > GOOD_STAMP_MS) {
    fits.push(fitRhythm({ tMs, um, starts }, resolutionUm, LATE_STAMP_MS));
    if (even !== null) fits.push(fitRhythm({ tMs: even.tMs, um, starts }, resolutionUm, GOOD_STAMP_MS));
  }
  let best: RhythmFit | null = null;
  for (const fit of fits) if (fit !== null && (best === null || fit.cost < best.cost)) best = fit;
  return best === null ? null : { fit: best, levelNm };
}

/** Why the model's answer for one pass is not to be believed; null if it is. */
function doubt(pass: Pass, { fit, levelNm }: Fitted, index: number, resolutionNm: Nm): string | null {
  const square = (fit.squareUm[index] as number) + levelNm / 1000;
  const deviation = fit.deviationUm[index] as number;
  const usual = Math.max(1, median(fit.misfit));
  if (!Number.isFinite(square) || !(deviation * usual <= LARGEST_DEVIATION_UM)) return FEW_NEAR_SQUARE;
  if ((fit.misfit[index] as number) > LARGEST_MISFIT * usual) return NO_ROCKING;
  const lowest = lowestOf(pass).valueNm / 1000;
  if (lowest - square > (LARGEST_DROP_SHARE * sidesNm(pass)[1]) / 1000 + LARGEST_RISE_UM) {
    return "the fit turns too far below the readings";
  }
  if (square - lowest > LARGEST_RISE_UM + resolutionNm / 1000) return "the fit turns above the smallest reading";
  return null;
}

/** Heights of both sides of a pass over its smallest reading, nm, the lower one first. */
function sidesNm(pass: Pass): readonly [lower: number, higher: number] {
  const lowest = lowestOf(pass).valueNm;
  const fall = (pass.samples[0] as Sample).valueNm - lowest;
  const rise = (pass.samples.at(-1) as Sample).valueNm - lowest;
  return [Math.min(fall, rise), Math.max(fall, rise)];
}

/** Without a rhythm: the parabola through the lowest readings if they make one, or else the smallest of them. */
function fallback(pass: Pass, why: string, resolutionNm: Nm): Answer {
  const { samples } = pass;
  const lowest = lowestOf(pass);
  const ceiling = lowest.valueNm + Math.max(PARABOLA_SHARE * sidesNm(pass)[0], 2 * resolutionNm);
  const at = samples.indexOf(lowest);
  let from = at;
  let to = at;
  while (from > 0 && (samples[from - 1] as Sample).valueNm <= ceiling) from -= 1;
  while (to < samples.length - 1 && (samples[to + 1] as Sample).valueNm <= ceiling) to += 1;
  const near = samples.slice(from, to + 1);
  const raw = { turningPointNm: lowest.valueNm, method: "raw" as const, supported: true };
  if (near.length < FEWEST_PARABOLA) return { ...raw, methodWhy: `${why}, and fewer than three readings near square` };
  const vertex = parabolaVertex(
    near.map((sample) => Math.round((sample.tMs - lowest.tMs) * 1000) / 1000),
    near.map((sample) => sample.valueNm - lowest.valueNm),
  );
  const allowed = LARGEST_RISE_UM * 1000 + resolutionNm;
  const drop = LARGEST_DROP_SHARE * sidesNm(pass)[0] + resolutionNm;
  if (vertex === null || vertex.rms > allowed || vertex.lowest > allowed || -vertex.lowest > drop) {
    return { ...raw, methodWhy: `${why}, and no parabola either` };
  }
  return {
    turningPointNm: toNm(lowest.valueNm + Math.round(vertex.lowest)),
    method: "parabola",
    methodWhy: why,
    supported: true,
  };
}
