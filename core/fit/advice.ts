import { formatLength } from "../length/formatLength.ts";
import { toNm } from "../length/nm.ts";
import { bestEstimate } from "./bestEstimate.ts";
import { type Budget, LINE, type LineName, largestLine } from "./budget.ts";
import { BUDGET_DEFAULTS } from "./budgetDefaults.ts";
import type { BudgetLine, FitInput } from "./finding.ts";
import type { FormStation } from "./form.ts";
import { type Repeatability, stationRepeatability } from "./repeatability.ts";
import type { TemperatureState } from "./temperature.ts";
import { type Extremes, extremesOf, type Judged, judge } from "./verdict.ts";

/** A station's clearance as judged, with what its uncertainty is made of; nm, not rounded. */
export interface JudgedStation extends FormStation, Judged {
  readonly budget: Budget;
  /** Kept sweeps. */
  readonly sweeps: number;
  readonly scatter: Repeatability;
  readonly temperature: TemperatureState;
  /** The clearance is against the lifter meant for the bore; false where it is against the reference lifter. */
  readonly againstLifter: boolean;
  /** False while no return check follows. */
  readonly zeroChecked: boolean;
  /** Diameter of the lifter the micrometer was set to. */
  readonly setNm: number;
  /** Diameter of the bore here, nm at 20 °C; as good as the reference lifter's, since the gauge only compares. */
  readonly boreNm: number;
}

/** More sweeps of a station than this are no longer practical; our choice. */
const MOST_SWEEPS = 15;

/** A zero just made drifts a quarter of what lies between two checks, or so; our choice. */
const DRIFT_PART = 4;

/** One thing a person can do, and what a line of the budget would then contribute (nm); null leaves the line alone. */
interface Action {
  readonly kind: "return check" | "temperature" | "sweeps" | "own lifter" | "gauge";
  readonly sentence: string;
  readonly contribution: (line: BudgetLine, station: JudgedStation) => number | null;
}

const micrometres = (nm: number) => `${formatLength(toNm(nm), "um", 1)} µm`;
const bothUnits = (nm: number) => `${micrometres(nm)} (${formatLength(toNm(nm), "in", Math.abs(nm) < 254 ? 6 : 5)} in)`;

/** The station as it would be judged after `actions`. The clearance is taken to stay. */
function after(input: FitInput, station: JudgedStation, actions: readonly Action[]): Judged {
  const lines = station.budget.lines.map((line) => ({
    ...line,
    contributionNm: actions.reduce((left, action) => action.contribution(line, station) ?? left, line.contributionNm),
  }));
  return {
    clearanceNm: station.clearanceNm,
    ...bestEstimate(station.clearanceNm, lines, input.budget.centringNm),
  };
}

const on =
  (names: readonly LineName[], contribution: Action["contribution"]): Action["contribution"] =>
  (line, station) =>
    names.some((name) => name === line.name) ? contribution(line, station) : null;

function moreSweeps(count: number, sentence: string): Action {
  return {
    kind: "sweeps",
    sentence,
    contribution: on([LINE.station], (line, station) => {
      const ratio =
        stationRepeatability(station.scatter, Math.max(count, station.sweeps)) /
        stationRepeatability(station.scatter, station.sweeps);
      return line.contributionNm * ratio;
    }),
  };
}

/** Everything that can be done about this bore, least effort first. */
function actionsFor(input: FitInput, stations: readonly JudgedStation[], lifter: string | null): Action[] {
  const actions: Action[] = [];
  if (stations.some(({ zeroChecked }) => zeroChecked)) {
    const worst = Math.max(...stations.map(({ budget }) => contributionOf(budget, LINE.drift)));
    // The line is half the return over √3, times the gain.
    const returned = (worst * 2 * Math.sqrt(3)) / Math.abs(input.gain) / DRIFT_PART;
    actions.push({
      kind: "return check",
      sentence: `Zero again and measure this bore straight after it, with a return of at most ${micrometres(returned)}`,
      contribution: on([LINE.drift], (line) => line.contributionNm / DRIFT_PART),
    });
  }
  if (stations.some(({ temperature }) => temperature.common)) {
    const halfWidth = input.budget.thermometerHalfWidthC ?? BUDGET_DEFAULTS.thermometerHalfWidthC;
    const { block, lifter } = input.materials;
    actions.push({
      kind: "temperature",
      sentence: "Measure the temperature of block and lifter",
      contribution: (line, station) => {
        const u = halfWidth / Math.sqrt(3);
        const each = station.setNm * 1e-6 * u;
        if (line.name === LINE.temperature) return each * Math.hypot(block.alpha, lifter.alpha);
        if (line.name === LINE.blockExpansion || line.name === LINE.lifterExpansion) return each * line.u;
        return null;
      },
    });
  }
  const fewest = Math.min(...stations.map(({ sweeps }) => sweeps));
  for (let count = fewest + 1; count <= MOST_SWEEPS; count += 1) {
    const more = count - fewest === 1 ? "one more sweep" : `${count - fewest} more sweeps`;
    actions.push(moreSweeps(count, `Take ${more} at each station (${count} in all)`));
  }
  actions.push({
    kind: "own lifter",
    sentence: `Set the micrometer to ${lifter === null ? "this bore's own lifter" : `lifter ${lifter}, which goes into this bore,`} and zero again`,
    contribution: on([LINE.lifterDifference], () => 0),
  });
  for (const part of [2, 5, 10]) {
    const resolution = formatLength(toNm(input.resolutionNm / part), "um", 2);
    const indicator = formatLength(toNm(input.budget.indicatorNm / part), "um", 2);
    actions.push({
      kind: "gauge",
      sentence: `Use a finer gauge: ${resolution} µm resolution and at most ${indicator} µm indicator error`,
      contribution: on(
        [LINE.resolutionBore, LINE.resolutionZero, LINE.indicator],
        (line) => line.contributionNm / part,
      ),
    });
  }
  return actions;
}

function contributionOf(budget: Budget, name: LineName): number {
  return budget.lines.find((line) => line.name === name)?.contributionNm ?? 0;
}

/** Text that opens every advice: how far from which limit, and the largest line of the budget. */
function situation(input: FitInput, extremes: Extremes<JudgedStation>) {
  const toLow = extremes.smallest.clearanceNm - input.limits.lowNm;
  const toHigh = input.limits.highNm - extremes.largest.clearanceNm;
  const tight = Math.abs(toLow) <= Math.abs(toHigh);
  const station = tight ? extremes.smallest : extremes.largest;
  const distance = tight ? toLow : toHigh;
  const line = largestLine(station.budget);
  const side = distance < 0 ? "beyond" : "inside";
  const at = Math.abs(distance) < 50 ? "on" : `${bothUnits(Math.abs(distance))} ${side}`;
  const where =
    `${at} the ${tight ? "lower" : "upper"} limit at ` +
    `${station.place.height} ${station.place.clock}, uncertain by ${bothUnits(station.budget.expanded)}`;
  const largest = `; the largest part is ${line.name} (${Math.round(line.share * 100)} %)`;
  return { station, where: `It is ${where}${largest}.` };
}

/** Largest factor, below 1, by which both uncertainties would have to shrink to decide; null when a tenth does not. */
function shrinkingNeeded(decides: (factor: number) => boolean): number | null {
  let low = 0.1;
  let high = 1;
  if (!decides(low)) return null;
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    if (decides(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * What would decide an undecided bore, computed from its budget, the clearances taken to stay: the first action that
 * suffices alone, from least effort to most; else the fewest of them together; else what the largest line of the budget
 * would have to come down to. `stations` are those of the bore, at least one; `lifter` is the one that goes into it, null
 * for its own.
 */
export function adviceFor(input: FitInput, stations: readonly JudgedStation[], lifter: string | null = null): string {
  const found = extremesOf(stations);
  if (found === null) throw new RangeError("advice for a bore without stations");
  const { station, where } = situation(input, found);
  const decidedBy = (change: (station: JudgedStation) => Judged) =>
    judge(stations.map(change), input.limits, "guarded").verdict !== "undecided";
  const unchecked = stations.some(({ zeroChecked }) => !zeroChecked) ? " A return check is still to come." : "";

  const factor = shrinkingNeeded((scale) => decidedBy((each) => ({ ...each, u: each.u * scale })));
  if (factor === null) {
    return `${where} That is so near the limit that a ten times smaller uncertainty would not decide it: treat it as not fitting, or pair another lifter.${unchecked}`;
  }
  const target = `U below about ${micrometres(station.budget.expanded * factor)}`;
  // Measured temperatures, for one, add what the thermometer does not know where block and lifter expand alike.
  const actions = actionsFor(input, stations, lifter).filter((action) =>
    stations.some((each) => after(input, each, [action]).u < each.u),
  );
  const alone = actions.find((action) => decidedBy((each) => after(input, each, [action])));
  if (alone !== undefined) return `${where} ${alone.sentence}: that would decide it (${target}).${unchecked}`;
  const together = fewestNeeded(strongestOfEachKind(actions), (some) => decidedBy((each) => after(input, each, some)));
  if (together !== null) {
    const sentences = together.map(({ sentence }) => sentence).join("; ");
    return `${where} No single step decides it (${target} is needed). Together these would: ${sentences}.${unchecked}`;
  }
  const line = largestLine(station.budget);
  const allowed = (station.u * factor) ** 2 - station.u ** 2 + line.contributionNm ** 2;
  if (allowed > 0) {
    const fromTo = `from ${micrometres(line.contributionNm)} to ${micrometres(Math.sqrt(allowed))}`;
    const ring =
      line.name === LINE.transfer ? ", for example by the mean of several fresh settings of the micrometer" : "";
    return `${where} ${target} would decide it: ${line.name} would have to come down ${fromTo} (standard uncertainty)${ring}. Otherwise pair another lifter, or treat it as not fitting.${unchecked}`;
  }
  return `${where} ${target} would decide it, more than sweeps, temperatures and a ten times finer gauge give: pair another lifter, or treat it as not fitting.${unchecked}`;
}

/** Leaves out of `actions`, in turn, each without which the rest still decides; null when not even all of them do. */
function fewestNeeded(actions: readonly Action[], decides: (some: readonly Action[]) => boolean): Action[] | null {
  if (!decides(actions)) return null;
  return actions.reduce<Action[]>(
    (left, action) => {
      const without = left.filter((each) => each !== action);
      return decides(without) ? without : left;
    },
    [...actions],
  );
}

/** Of the graded actions (sweeps, gauge) only the strongest, every other one as it is; graded ones come weakest first. */
function strongestOfEachKind(actions: readonly Action[]): Action[] {
  const last = new Map<Action["kind"], Action>();
  for (const action of actions) last.set(action.kind, action);
  return [...last.values()];
}
