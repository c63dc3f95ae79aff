import type { OperatorAction } from "../../core/bridge/messages.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import type { Place } from "../store/place.ts";

/** One stage of the guided try, beside the place where it happens. */
export interface Stage {
  readonly place: Place;
  readonly title: string;
  /** What happens here, and why. */
  readonly happens: string;
  /** What to look at on the place itself. */
  readonly look: string;
  /** What the simulated hands are to do; absent at the desk, where there is only something to look at. */
  readonly hands?: {
    readonly button: string;
    readonly working: string;
    readonly begin: (job: Job) => OperatorAction;
    readonly isDone: (view: SessionView) => boolean;
    readonly done: string;
  };
}

export const STAGES: readonly Stage[] = [
  {
    place: "Gauges",
    title: "Two gauges, both simulated",
    happens:
      "A micrometer and a bore gauge are connected. Nothing here is measured on metal: the block is invented, and the session says SIMULATED wherever it goes.",
    look: "For each gauge the text as it came stands beside what was understood of it. The strip along the top shows every gauge at every place.",
  },
  {
    place: "Lifters",
    title: "The lifters come first",
    happens:
      "Each lifter is measured with the micrometer; a press of its data button writes the figure down. Clearance is bore less lifter, so the lifter is half of the answer.",
    look: "One row fills after another. The drawing shows where the micrometer goes: on a full-diameter band, away from groove and holes.",
    hands: {
      button: "Let the hands measure four lifters",
      working: "The hands close the micrometer on one lifter after another and press its button.",
      begin: () => ({ type: "step", step: "lifters" }),
      isDone: (view) => view.lifters.every((lifter) => lifter.diameterNm !== null),
      done: "Four lifters, four diameters.",
    },
  },
  {
    place: "Zero",
    title: "Zero the bore gauge in the micrometer",
    happens:
      "The micrometer is set to a lifter and locked. The bore gauge is rocked between its faces, and its smallest reading becomes the zero: what it shows in a bore from now on is the clearance.",
    look: "One dot a sweep: filled when kept, crossed when set aside. Three that agree make the zero; a tone says so.",
    hands: {
      button: "Let the hands take the zero",
      working: "The hands rock the gauge in the micrometer.",
      begin: (job) => {
        const [lifter] = job.walk;
        return { type: "step", step: "zero", ...(lifter === undefined ? {} : { lifter }) };
      },
      isDone: (view) => view.references.length > 0 && (view.step !== "zero" || view.guide.next !== null),
      done: "The zero is taken. Its spread stands beside the sweeps.",
    },
  },
  {
    place: "Zero",
    title: "Prove it by a step",
    happens:
      "The micrometer is opened by exactly 0.0010 in and the gauge rocked once more. The answer must be that step: one touch proves sign, unit and gain, and that no hold is on.",
    look: "What the gauge answered stands under Step check. Where it is wrong, a correction is offered there.",
    hands: {
      button: "Let the hands make the step check",
      working: "The hands open the micrometer by the step and rock again.",
      begin: () => ({ type: "step", step: "step-check", openedNm: toNm(25_400) }),
      isDone: (view) => view.stepCheck.state === "passed",
      done: "Right way, right unit, no hold.",
    },
  },
  {
    place: "Bores",
    title: "Walk four bores",
    happens:
      "The bore and the station are named; the gauge is rocked there until the tone. Both hands stay on it: the next station opens when it is held still or taken out, and at the end the zero is proved again in the micrometer.",
    look: "The large figure is the clearance now, the bar below it the limits. In the trace each turn at the bottom is a sweep. The plan fills in.",
    hands: {
      button: "Let the hands walk the bores",
      working: "The hands rock the gauge in bore after bore, then once more in the micrometer.",
      begin: () => ({ type: "step", step: "bores" }),
      isDone: (view) => view.complete,
      done: "Four bores, and the zero held.",
    },
  },
  {
    place: "Findings",
    title: "Read what was found",
    happens:
      "Every bore has its clearances, how sure each is, and a verdict under a rule that is stated. A full disc fits; arrows pointing out say too loose, arrows pointing in too tight; a half disc is undecided.",
    look: "Choose a bore on the plan or in the chart: beside the plan stands what its verdict rests on, down to each line of the uncertainty. One of these four does not fit.",
  },
  {
    place: "Remedy",
    title: "What to do about it",
    happens:
      "Pairing lifters with bores costs no metal, so it comes first. For what is left the ways out stand side by side, with finished sizes after the guard band.",
    look: "Go through the four sheets: lifters to bores, each bore, the sheet for the machine shop, and figures for planning, marked as estimates. The maker's sheet comes first.",
  },
  {
    place: "Handover",
    title: "Hand over the proof",
    happens:
      "One file takes it all to the next builder: every raw reading, sealed, with the findings, the tables and a report for paper. Opened elsewhere, it is checked from end to end and gives the same verdicts.",
    look: "Make the parcel if you like, or look at the report. Made with SIMULATED gauges stands in it, as it does everywhere.",
  },
];
