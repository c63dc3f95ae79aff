import { findBores } from "../fit/findBores.ts";
import type { FitInput, Material } from "../fit/finding.ts";
import { lifterFits } from "../fit/lifterFits.ts";
import { preferredBand } from "../fit/preferredBand.ts";
import { toNm } from "../length/nm.ts";
import { smallLength } from "../remedy/bothUnits.ts";
import { annulusLeak, leakRatio } from "../remedy/planning/annulusLeak.ts";
import { runningClearance } from "../remedy/planning/runningClearance.ts";
import { tiltAllowed } from "../remedy/planning/tiltAllowed.ts";
import type { Recording } from "../session/recording.ts";
import { type GivenAssumptions, type PlanningAssumptions, planningAssumptions } from "./planningAssumptions.ts";
import type { Planning, PlanningFigure } from "./planningSchema.ts";

/** What planning figures may rest on instead of the session's own and the defaults. */
export interface PlanningWish {
  readonly assumptions?: GivenAssumptions;
  /** What the session measured, altered for a look at "what if". */
  readonly input?: FitInput;
}

/**
 * Planning figures for a session's bores: clearance when running, oil past the lifter, tilt. Every one is an estimate
 * that rests on the assumptions it is given with; none is a measurement, and no verdict follows from them.
 * @throws PlanningError for an assumption that makes no sense: where, what was found, what was expected.
 */
export function planningReport(recording: Recording, wish: PlanningWish = {}): Planning {
  const { job, simulated } = recording;
  const input = wish.input ?? recording.run.fitInput();
  const { values, shown } = planningAssumptions(job, wish.assumptions ?? {});
  const band = preferredBand(input.limits);
  const middleOfBand = (band.lowNm + band.highNm) / 2;
  const middleRunningNm = running(middleOfBand, input.nominalLifterNm, values).clearanceNm;
  const figure = (bore: string, clearanceNm: number, lifterNm: number) =>
    figureAt({ bore, clearanceNm, lifterNm, middleRunningNm }, values);
  const bores = measuredBores(input).map(({ name, lowNm, highNm, lifterNm }) => ({
    name,
    smallest: figure(name, lowNm, lifterNm),
    middle: figure(name, (lowNm + highNm) / 2, lifterNm),
    largest: figure(name, highNm, lifterNm),
  }));
  return {
    format: "borewright/planning",
    version: 1,
    estimate: true,
    assumptions: [...shown],
    middleOfBand: figure("", middleOfBand, input.nominalLifterNm),
    block: blockOf(bores),
    bores,
    notes: notesOf(values, simulated, recording.job.walk.length - bores.length),
  };
}

interface MeasuredBore {
  readonly name: string;
  readonly lowNm: number;
  readonly highNm: number;
  /** Diameter at 20 °C of the lifter its clearances are against; it matters only times an expansion. */
  readonly lifterNm: number;
}

function measuredBores(input: FitInput): MeasuredBore[] {
  const sized = new Map(lifterFits(input).bores.map((bore) => [bore.name, bore]));
  return findBores(input).flatMap(({ name, verdict, clearanceMinNm: lowNm, clearanceMaxNm: highNm }) => {
    const bore = sized.get(name);
    if (verdict === "not measured" || lowNm === null || highNm === null || bore === undefined) return [];
    return [{ name, lowNm, highNm, lifterNm: bore.minNm - lowNm }];
  });
}

function running(clearanceNm: number, lifterNm: number, values: PlanningAssumptions) {
  const warm = (material: Material, celsius: number) => ({ material, celsius });
  return runningClearance(
    clearanceNm,
    lifterNm,
    warm(values.blockMaterial, values.blockC),
    warm(values.lifterMaterial, values.lifterC),
  );
}

interface Asked {
  readonly bore: string;
  readonly clearanceNm: number;
  readonly lifterNm: number;
  /** Running clearance at the middle of the band, nm, signed. */
  readonly middleRunningNm: number;
}

function figureAt(
  { bore, clearanceNm, lifterNm, middleRunningNm }: Asked,
  values: PlanningAssumptions,
): PlanningFigure {
  const warm = running(clearanceNm, lifterNm, values);
  const leak = annulusLeak({
    diameterNm: lifterNm,
    clearanceNm: warm.clearanceNm,
    pressurePa: values.pressurePa,
    viscosityPaS: values.viscosityPaS,
    lengthNm: values.guidedNm,
    eccentricity: values.eccentricity,
  });
  const tilt = tiltAllowed(warm.clearanceNm, lifterNm, values.guidedNm);
  const times = middleRunningNm > 0 && leak.m3PerS !== null ? leakRatio(warm.clearanceNm, middleRunningNm) : null;
  const figure = {
    bore,
    clearanceNm: toNm(clearanceNm),
    runningNm: toNm(warm.clearanceNm),
    runningHalfWidthNm: toNm(warm.halfWidthNm),
    leakM3PerS: leak.m3PerS,
    leakMlPerMin: leak.m3PerS === null ? null : leak.m3PerS * 6e7,
    leakTimesMiddle: times,
    tiltMilliradians: tilt.radians * 1000,
    tiltDegrees: (tilt.radians * 180) / Math.PI,
  };
  return { ...figure, text: figureText(figure, leak.state) };
}

function figureText(figure: Omit<PlanningFigure, "text">, state: ReturnType<typeof annulusLeak>["state"]): string {
  const { clearanceNm, runningNm, runningHalfWidthNm, leakMlPerMin, leakTimesMiddle } = figure;
  const at20 = `${smallLength(clearanceNm)} at 20 °C`;
  if (state === "no gap") {
    const now = runningNm < 0 ? `an interference of ${smallLength(-runningNm)}` : "no clearance at all";
    return `Estimate: ${at20} becomes ${now} when running: the lifter would be held fast, so no oil passes and nothing tilts.`;
  }
  const becomes = `Estimate: ${at20} becomes ${smallLength(runningNm)} when running`;
  const close =
    runningNm <= runningHalfWidthNm
      ? " It may be none at all: the expansion coefficients alone are not known better than that."
      : "";
  const tilts = `it lets the lifter tilt by ${figure.tiltMilliradians.toFixed(2)} mrad (${figure.tiltDegrees.toFixed(3)}°)`;
  if (state === "too wide" || leakMlPerMin === null) {
    return `${becomes}: too wide a gap for the leak to be told; ${tilts}.${close}`;
  }
  const beside =
    leakTimesMiddle === null ? "" : `, ${significant(leakTimesMiddle)} times as much as at the middle of the band`;
  return `${becomes}: ${significant(leakMlPerMin)} mL/min past the lifter${beside}; ${tilts}.${close}`;
}

/** Two digits are more than an estimate has. */
const significant = (value: number) => (value === 0 ? "0" : String(Number(value.toPrecision(2))));

function blockOf(bores: Planning["bores"]): Planning["block"] {
  const by = (which: "smallest" | "middle" | "largest") =>
    bores.map((bore) => bore[which]).sort((one, other) => one.clearanceNm - other.clearanceNm);
  const smallest = by("smallest")[0];
  const middle = by("middle")[Math.floor((bores.length - 1) / 2)];
  const largest = by("largest").at(-1);
  return smallest === undefined || middle === undefined || largest === undefined ? null : { smallest, middle, largest };
}

function notesOf(values: PlanningAssumptions, simulated: boolean, notMeasured: number): string[] {
  return [
    ...(simulated ? ["Simulated gauges: nothing was measured, and this proves nothing about a block."] : []),
    "Every figure is an estimate for planning, made from the clearances at 20 °C and the assumptions above; none was measured, and no verdict follows from it. The maker's sheet and the machinist's judgement come first.",
    "Block and lifter are taken to be as warm all through as assumed, and free to expand; a block under its bolts, hot at one end, does otherwise.",
    "The leak takes the oil to be of one viscosity, the gap to be even along the bore, and the lifter not to tilt; holes and grooves in its way are left out. Compare bores with it: the amounts themselves may be off by a factor.",
    ...(values.blockMaterial.alpha === values.lifterMaterial.alpha && values.blockC === values.lifterC
      ? ["Block and lifter expand alike here, so the clearance hardly changes."]
      : []),
    ...(notMeasured > 0
      ? [`${notMeasured} ${notMeasured === 1 ? "bore is" : "bores are"} not measured and left out.`]
      : []),
  ];
}
