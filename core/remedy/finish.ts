import { LINE } from "../fit/budget.ts";
import type { FitInput } from "../fit/finding.ts";
import type { SizedBore } from "../fit/lifterFits.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { diameterText, smallLength, smallRange } from "./bothUnits.ts";
import { type FinishWindow, finishWindow } from "./finishWindow.ts";
import type { LifterIn } from "./lifterIn.ts";

/** A window narrower than this is nothing to work to, nm: a tenth (0.0001 in). Common practice, no source. */
const WORKABLE_NM = 2_540;

/**
 * A window this wide, nm, needs no special measurement afterwards: two tenths, which honing is commonly held to (common
 * practice, no source). Below it the bore is to be measured again with the micrometer set to its own lifter, which
 * leaves more.
 */
const COMFORTABLE_NM = 5_080;

/** Finished diameters (nm at 20 °C, both included) for a bore and a lifter, or why there are none. */
export interface Finish {
  readonly possible: boolean;
  readonly lowNm: Nm;
  /** The size not to pass; below `lowNm` where no size would do. */
  readonly highNm: Nm;
  /** The clearances of those two. */
  readonly clearanceLowNm: Nm;
  readonly clearanceHighNm: Nm;
  readonly measureOn: "any lifter" | "its lifter";
  readonly window: FinishWindow;
  /** Whole sentences: why not, or how the bore is to be measured again. */
  readonly why: string;
}

/**
 * Finished sizes for a bore that is to take `lifter`. With `cleanUp` the bore is opened from what it is, so no finished
 * size lies below its largest station: only then is every station cut, and taper and oval with it. Rounded inwards.
 */
export function finishFor(input: FitInput, bore: SizedBore, lifter: LifterIn, cleanUp: boolean): Finish {
  const ownBudget = bore.stations.map(({ ofReference }) => ofReference);
  const anyBudget = bore.stations.map((station) => lifter.uncertaintyAt(station));
  const onIts = finishOn(input, bore, lifter, cleanUp, "its lifter", ownBudget, WORKABLE_NM);
  // On the lifter it was zeroed on, or that stands in for its own, there is no other way.
  if (anyBudget.every((each, index) => each === ownBudget[index])) return onIts;
  const onAny = finishOn(input, bore, lifter, cleanUp, "any lifter", anyBudget, COMFORTABLE_NM);
  return onAny.possible ? onAny : onIts;
}

function finishOn(
  input: FitInput,
  bore: SizedBore,
  lifter: LifterIn,
  cleanUp: boolean,
  measureOn: Finish["measureOn"],
  stations: readonly { readonly u: number; readonly degreesOfFreedom: number }[],
  leastNm: number,
): Finish {
  const window = finishWindow({
    limits: input.limits,
    rule: input.rule,
    stations,
    budget: input.budget,
    lifterNm: lifterUncertainty(bore),
  });
  const lifters = bore.stations.map((station) => lifter.at20(station));
  const smallestLifter = Math.min(...lifters);
  const largestLifter = Math.max(...lifters);
  const wantedLow = Math.ceil(largestLifter + window.lowNm);
  const highNm = toNm(Math.floor(smallestLifter + window.highNm));
  const lowNm = toNm(cleanUp ? Math.max(wantedLow, bore.maxNm) : wantedLow);
  const possible = highNm - lowNm >= leastNm;
  return {
    possible,
    lowNm: possible ? lowNm : toNm(wantedLow),
    highNm,
    clearanceLowNm: toNm(Math.ceil((possible ? lowNm : wantedLow) - smallestLifter)),
    clearanceHighNm: toNm(Math.floor(highNm - largestLifter)),
    measureOn,
    window,
    why: possible ? afterwards(measureOn, lifter) : whyNot(),
  };

  function whyNot(): string {
    if (highNm - wantedLow < leastNm) {
      const left =
        highNm > wantedLow ? `only ${smallLength(highNm - wantedLow)}, less than a bore can be worked to` : "nothing";
      return (
        `This gauge can not prove such a bore: of the limits, ${smallRange(input.limits.lowNm, input.limits.highNm)}, ` +
        `the decision rule keeps ${smallLength(window.guardNm)} off each side and the error of the later measurement ` +
        `${smallLength(window.allowanceNm)}, which leaves ${left}.`
      );
    }
    if (bore.maxNm > highNm) {
      return (
        `Already larger than the finished size: ${diameterText(bore.maxNm)} at its largest station, ` +
        `and ${diameterText(highNm)} is not to be passed.`
      );
    }
    return (
      `Its largest station, ${diameterText(bore.maxNm)}, leaves only ${smallLength(highNm - bore.maxNm)} below the size ` +
      `not to pass, ${diameterText(highNm)}: less than a bore can be worked to.`
    );
  }
}

/** Standard uncertainty (nm) of one lifter's diameter: of the line for the difference of two, one of them. */
function lifterUncertainty(bore: SizedBore): number {
  const ofOther = bore.stations[0]?.ofOther.budget.lines.find(({ name }) => name === LINE.lifterDifference);
  return (ofOther?.contributionNm ?? 0) / Math.SQRT2;
}

function afterwards(measureOn: Finish["measureOn"], { name }: LifterIn): string {
  if (measureOn === "any lifter") return "Measure it again as before.";
  const which = name === null ? "the lifter that goes in it" : `lifter ${name}`;
  return `Measure it again with the micrometer set to ${which} and the gauge zeroed on that.`;
}
