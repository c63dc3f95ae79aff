import type { Sends } from "../gauge/profile.ts";
import { formatLength } from "../length/formatLength.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { largestLine, stationBudget } from "./budget.ts";
import { BUDGET_DEFAULTS } from "./budgetDefaults.ts";
import type { BudgetSettings, FitInput, Limits } from "./finding.ts";
import { probabilityInside } from "./odds.ts";
import { ASSUMED_SCATTER_NM, type Repeatability, stationRepeatability } from "./repeatability.ts";
import { resolutionUncertainty } from "./resolution.ts";
import { type TemperatureState, unmeasuredTemperatures } from "./temperature.ts";
import { CONFORMANCE } from "./verdict.ts";

/** What is settled before the walk; lengths in nm. */
export interface CanDecideInput {
  readonly limits: Pick<Limits, "lowNm" | "highNm">;
  readonly sends: Sends;
  /** At least 1. */
  readonly sweepsPerStation: number;
  readonly resolutionNm: Nm;
  readonly micrometerResolutionNm: Nm;
  readonly nominalLifterNm: Nm;
  readonly materials: FitInput["materials"];
  readonly budget: BudgetSettings;
  /** True when block and lifter temperatures will be measured; false if not given. */
  readonly temperaturesMeasured?: boolean;
  /** True when bores are judged for other lifters than the one the micrometer is set to; false if not given. */
  readonly otherLifters?: boolean;
  /** Standard deviation of a single sweep where it is known, for example from a gauge study. */
  readonly scatterNm?: number;
}

export interface CanDecide {
  /** False when less than half of the band is left between the guard limits. */
  readonly decides: boolean;
  /** Expanded uncertainty (95 %) to be expected of a station. */
  readonly expandedNm: Nm;
  readonly bandNm: Nm;
  /** Width of the values that would be called `fits`; 0 when none would. */
  readonly guardedBandNm: Nm;
  /** The same in one or two sentences. */
  readonly text: string;
}

const SHARE_NEEDED = 0.5;

/**
 * Whether this gauge, used as planned, can decide this band: the uncertainty to be expected against the width of the
 * values that would still be called `fits` at 95 % (two-sided, JCGM 106:2012, 7.3.2). Below half of the band it cannot.
 */
export function canDecide(input: CanDecideInput): CanDecide {
  const scatterNm = input.scatterNm ?? ASSUMED_SCATTER_NM;
  const repeatability: Repeatability = {
    sends: input.sends,
    scatterNm,
    scaleNm: scatterNm,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
  const u = stationRepeatability(repeatability, input.sweepsPerStation);
  const resolution = resolutionUncertainty(input.resolutionNm, input.sends, scatterNm);
  const budget = stationBudget({
    station: { u, degreesOfFreedom: Number.POSITIVE_INFINITY },
    // The zero is judged by its own few sweeps; a single one says as little as two.
    zero: { u, degreesOfFreedom: Math.max(2, input.sweepsPerStation - 1) },
    sends: input.sends,
    resolutionBore: resolution,
    resolutionZero: resolution,
    driftHalfWidthNm: 0,
    otherLifter: input.otherLifters ?? false,
    gain: 1,
    micrometerResolutionNm: input.micrometerResolutionNm,
    diameterNm: input.nominalLifterNm,
    materials: input.materials,
    temperature: plannedTemperatures(input),
    budget: input.budget,
  });
  const { lowNm, highNm } = input.limits;
  const bandNm = toNm(highNm - lowNm);
  const guarded = guardedWidth(lowNm, highNm, budget.combined, budget.degreesOfFreedom);
  const share = bandNm === 0 ? 0 : guarded / bandNm;
  const decides = share >= SHARE_NEEDED;
  const um = (nm: number) => formatLength(toNm(nm), "um", 1);
  const figures =
    `U of ±${um(budget.expanded)} µm (95 %) is to be expected against a band of ${um(bandNm)} µm; ` +
    `${um(guarded)} µm of it, ${Math.round(share * 100)} %, is left between the guard limits`;
  const largest = largestLine(budget);
  const text = decides
    ? `This gauge can decide this band: ${figures}.`
    : `This gauge cannot decide this band: ${figures}, and half is needed. The largest part of the uncertainty is ` +
      `${largest.name} (${Math.round(largest.share * 100)} %).`;
  return { decides, expandedNm: toNm(budget.expanded), bandNm, guardedBandNm: toNm(guarded), text };
}

function plannedTemperatures(input: CanDecideInput): TemperatureState {
  const unmeasured = unmeasuredTemperatures(input.budget);
  if (input.temperaturesMeasured !== true) return unmeasured;
  const halfWidthC = input.budget.thermometerHalfWidthC ?? BUDGET_DEFAULTS.thermometerHalfWidthC;
  return { ...unmeasured, halfWidthC, common: false, measured: true };
}

/** Width of the values about the middle of [low, high] whose probability of being inside is at least 95 %. */
function guardedWidth(low: number, high: number, u: number, degreesOfFreedom: number): number {
  const middle = (low + high) / 2;
  const fits = (offset: number) =>
    probabilityInside({ value: middle + offset, u, degreesOfFreedom }, low, high) >= CONFORMANCE;
  let inside = 0;
  let outside = (high - low) / 2;
  for (let step = 0; step < 60; step += 1) {
    const offset = (inside + outside) / 2;
    if (fits(offset)) inside = offset;
    else outside = offset;
  }
  return 2 * inside;
}
