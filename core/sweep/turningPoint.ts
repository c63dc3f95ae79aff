import type { Ms } from "../gauge/reading.ts";
import { type Nm, toNm } from "../length/nm.ts";
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
}

/**
 * Turning points of consecutive passes, one for each, in the same order.
 * @throws RangeError if a pass has no sample.
 */
export function turningPoints(passes: readonly Pass[], resolutionNm: Nm): TurningPoint[] {
  return passes.map((pass) => parabola(pass, resolutionNm));
}

function parabola(pass: Pass, resolutionNm: Nm): TurningPoint {
  const smallest = smallestOf(pass.samples);
  const raw = {
    rawMinNm: smallest.valueNm,
    turningPointNm: smallest.valueNm,
    tMs: smallest.tMs,
    method: "raw" as const,
  };
  if (pass.end === "press" || pass.end === "held") return raw;
  const at = pass.samples.indexOf(smallest);
  const before = pass.samples[at - 1];
  const after = pass.samples[at + 1];
  if (before === undefined || after === undefined) return { ...raw, methodWhy: "fewer than three usable readings" };
  const x0 = before.tMs - smallest.tMs;
  const x1 = after.tMs - smallest.tMs;
  const y0 = before.valueNm - smallest.valueNm;
  const y1 = after.valueNm - smallest.valueNm;
  const a = (y0 / x0 - y1 / x1) / (x0 - x1);
  const b = y0 / x0 - a * x0;
  if (!(a > 0)) return { ...raw, methodWhy: "flat at the bottom" };
  const drop = (b * b) / (4 * a);
  if (drop > Math.max(y0, y1) / 2 + resolutionNm) return { ...raw, methodWhy: "poor fit" };
  return { ...raw, turningPointNm: toNm(smallest.valueNm - drop), method: "parabola" };
}

function smallestOf(samples: readonly Sample[]): Sample {
  let smallest = samples[0];
  if (smallest === undefined) throw new RangeError("a pass needs at least one sample");
  for (const sample of samples) if (sample.valueNm < smallest.valueNm) smallest = sample;
  return smallest;
}
