import type { Sends } from "../gauge/profile.ts";
import type { Nm } from "../length/nm.ts";
import type { BudgetLine, BudgetSettings, FitInput } from "./finding.ts";
import { combine, type Evaluation } from "./gum.ts";
import { REFERENCE_C, type TemperatureState } from "./temperature.ts";

/** Names of the lines of a station's budget, as shown. */
export const LINE = {
  station: "repeatability of the station value",
  zero: "repeatability of the zero",
  resolutionBore: "resolution at the bore",
  resolutionZero: "resolution at the zero",
  samplingBore: "smallest reading against the turning point, at the bore",
  samplingZero: "smallest reading against the turning point, at the zero",
  drift: "zero drift between checks",
  indicator: "indicator over the small travel used",
  transfer: "transfer through the micrometer: faces, feel",
  lifterDifference: "lifter diameter difference",
  centring: "centring of the gauge",
  temperature: "temperature of block and lifter, taken as equal",
  blockTemperature: "temperature of the block",
  lifterTemperature: "temperature of the lifter",
  blockExpansion: "expansion coefficient of the block",
  lifterExpansion: "expansion coefficient of the lifter",
} as const;

export type LineName = (typeof LINE)[keyof typeof LINE];

/** What the budget of one station's clearance is computed from; lengths in nm. */
export interface BudgetInput {
  /** Standard uncertainties of the station value and of the zero from their sweeps, with their degrees of freedom. */
  readonly station: { readonly u: number; readonly degreesOfFreedom: number };
  readonly zero: { readonly u: number; readonly degreesOfFreedom: number };
  /** The errors of presses lie on one side (`repeatabilityOf`). */
  readonly sends: Sends;
  /** Standard uncertainties from the graduation of the display (`resolutionUncertainty`). */
  readonly resolutionBore: number;
  readonly resolutionZero: number;
  /** Where smallest readings count: what they miss the turning points by (`FitInput.sampling`). */
  readonly sampling?: FitInput["sampling"];
  /** Half of the return between the checks, a half-width. */
  readonly driftHalfWidthNm: number;
  /** True when the clearance is for another lifter than the one the micrometer was set to. */
  readonly otherLifter: boolean;
  readonly gain: number;
  readonly micrometerResolutionNm: Nm;
  readonly diameterNm: number;
  readonly materials: FitInput["materials"];
  readonly temperature: TemperatureState;
  readonly budget: BudgetSettings;
}

export interface Budget extends Evaluation {
  readonly lines: readonly BudgetLine[];
}

/** The line with the largest share of a budget, the first of equal ones. */
export function largestLine({ lines }: Budget): BudgetLine {
  return lines.reduce((most, line) => (line.share > most.share ? line : most));
}

interface Draft {
  readonly name: LineName;
  readonly u: number;
  readonly unit: BudgetLine["unit"];
  readonly distribution: BudgetLine["distribution"];
  readonly degreesOfFreedom: number;
  readonly sensitivity: number;
}

const SQRT3 = Math.sqrt(3);
const EXACT = Number.POSITIVE_INFINITY;

/**
 * The budget of one clearance c = g·(r_bore − r_zero) + (D_set − D_lifter), each length at 20 °C, line by line, with
 * U at 95 %. Source of the method: GUM (JCGM 100:2008) 5.1.2, G.4.1; rectangular lines a/√3 by 4.3.7.
 *
 * Centring is one-sided: an off-centre gauge is short by 0 … a, and the clearance is not corrected for it, so the line
 * is the root mean square about the uncorrected value, a/√3 (GUM F.2.4.5, a known effect left uncorrected).
 */
export function stationBudget(input: BudgetInput): Budget {
  const gain = Math.abs(input.gain);
  const reading = (name: LineName, u: number, degreesOfFreedom: number): Draft => ({
    name,
    u,
    unit: "nm",
    distribution: input.sends === "press" ? "one-sided exponential" : "normal",
    degreesOfFreedom,
    sensitivity: gain,
  });
  const graduation = (name: LineName, u: number): Draft => ({
    name,
    u,
    unit: "nm",
    distribution: "rectangular",
    degreesOfFreedom: EXACT,
    sensitivity: gain,
  });
  const length = (name: LineName, u: number, distribution: BudgetLine["distribution"]): Draft => ({
    name,
    u,
    unit: "nm",
    distribution,
    degreesOfFreedom: EXACT,
    sensitivity: 1,
  });
  const drafts: Draft[] = [
    reading(LINE.station, input.station.u, input.station.degreesOfFreedom),
    reading(LINE.zero, input.zero.u, input.zero.degreesOfFreedom),
    graduation(LINE.resolutionBore, input.resolutionBore),
    graduation(LINE.resolutionZero, input.resolutionZero),
    ...(input.sampling === undefined
      ? []
      : [
          reading(LINE.samplingBore, input.sampling.boreNm, EXACT),
          reading(LINE.samplingZero, input.sampling.zeroNm, EXACT),
        ]),
    graduation(LINE.drift, input.driftHalfWidthNm / SQRT3),
    length(LINE.indicator, input.budget.indicatorNm / SQRT3, "rectangular"),
    length(LINE.transfer, input.budget.transferNm, "normal"),
    length(LINE.centring, input.budget.centringNm / SQRT3, "one-sided rectangular"),
    ...temperatureDrafts(input),
  ];
  if (input.otherLifter) {
    // Twice, once for each lifter: maximum error and graduation of the micrometer.
    const once = Math.hypot(input.budget.micrometerNm / SQRT3, input.micrometerResolutionNm / Math.sqrt(12));
    drafts.push(length(LINE.lifterDifference, Math.SQRT2 * once, "rectangular"));
  }
  const evaluation = combine(drafts);
  const variance = evaluation.combined ** 2;
  const lines = drafts.map((draft, index) => {
    const contributionNm = evaluation.contributions[index] ?? 0;
    return {
      name: draft.name,
      u: draft.u,
      unit: draft.unit,
      distribution: draft.distribution,
      degreesOfFreedom: draft.degreesOfFreedom,
      contributionNm,
      share: variance === 0 ? 0 : contributionNm ** 2 / variance,
    };
  });
  return { ...evaluation, lines };
}

/**
 * c = D_bore/(1 + α_B·θ_B) − D_lifter/(1 + α_L·θ_L), to first order −D·α_B·θ_B + D·α_L·θ_L with θ = T − 20 °C. Taken
 * as equal, the temperatures count with the difference of the two coefficients. An expansion coefficient counts with
 * D·√(θ² + u(θ)²): the second part is the variance of the product of two independent inputs (GUM 5.1.2 note, the term of
 * higher order), without which a coefficient would cost nothing at an unmeasured 20 °C.
 */
function temperatureDrafts(input: BudgetInput): Draft[] {
  const { temperature, materials, diameterNm } = input;
  const u = temperature.halfWidthC / SQRT3;
  const degree = (name: LineName, coefficient: number): Draft => ({
    name,
    u,
    unit: "°C",
    distribution: "rectangular",
    degreesOfFreedom: EXACT,
    sensitivity: diameterNm * coefficient * 1e-6,
  });
  const expansion = (name: LineName, halfWidth: number, celsius: number): Draft => ({
    name,
    u: halfWidth / SQRT3,
    unit: "1e-6/°C",
    distribution: "rectangular",
    degreesOfFreedom: EXACT,
    sensitivity: diameterNm * 1e-6 * Math.hypot(celsius - REFERENCE_C, u),
  });
  const degrees = temperature.common
    ? [degree(LINE.temperature, materials.block.alpha - materials.lifter.alpha)]
    : [degree(LINE.blockTemperature, materials.block.alpha), degree(LINE.lifterTemperature, materials.lifter.alpha)];
  return [
    ...degrees,
    expansion(LINE.blockExpansion, materials.block.alphaHalfWidth, temperature.blockC),
    expansion(LINE.lifterExpansion, materials.lifter.alphaHalfWidth, temperature.lifterC),
  ];
}
