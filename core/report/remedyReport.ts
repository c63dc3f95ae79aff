import type { FitInput } from "../fit/finding.ts";
import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import { atOnce } from "../remedy/atOnce.ts";
import { type BlockPlan, figuresOf } from "../remedy/blockPlans.ts";
import { type BlockRemedy, type BoreRemedy, remedyByStep } from "../remedy/remedy.ts";
import { effortOf, isCutting, type RemedyOption } from "../remedy/remedyOption.ts";
import type { Deed } from "../remedy/ways.ts";
import type { LifterNote } from "../session/job.ts";
import { lifterNotesOf } from "../session/lifterNotes.ts";
import type { Recording } from "../session/recording.ts";
import { REMEDY_CAUTIONS } from "./remedyCautions.ts";
import type { Remedy } from "./remedySchema.ts";

/** What a remedy may rest on instead of the session's own. */
export interface RemedyWish {
  /** Stand in for the job's notes, lifter by lifter. */
  readonly notes?: Readonly<Record<string, LifterNote>>;
  /** What the session measured, altered for a look at "what if". */
  readonly input?: FitInput;
  /** A lifter body to plan bushes and larger bores for beside the standard ones, nm at 20 °C. */
  readonly lifterNm?: Nm;
}

/**
 * What to do with each bore and with the block. Lengths in nm at 20 °C, as good as the micrometer's scale.
 * @throws JobError for notes that make no sense.
 */
export function remedySession(recording: Recording, wish: RemedyWish = {}): Remedy {
  return atOnce(remedySessionByStep(recording, wish));
}

/** `remedySession`, a plan or a bore at a time, of what was measured when it began. @throws JobError */
export function* remedySessionByStep(recording: Recording, wish: RemedyWish = {}): Generator<void, Remedy, void> {
  const { job, run, simulated } = recording;
  const fit = wish.input ?? run.fitInput();
  const rules = wish.notes === undefined ? job.lifters : lifterNotesOf({ ...job.lifters, ...wish.notes }, job.layout);
  const input = { fit, layout: job.layout.bores, rules, style: job.lifter.style };
  const remedy = yield* remedyByStep(input, wish.lifterNm ?? null);
  const { plan, open } = remedy;
  const figures = figuresOf(plan);
  const { lowNm, highNm, source } = fit.limits;
  return {
    format: "borewright/remedy",
    version: 1,
    bores: remedy.bores.map(boreShown),
    block: {
      plan: plan.deeds.filter(isDone).map(deedShown),
      boresTouched: figures.boresTouched,
      metalNm: figures.metalNm,
      allFit: open.length === 0 && figures.near === 0,
      near: plan.deeds.flatMap(({ bore, near }) => (near ? [bore] : [])),
      open: open.map((each) => ({ ...each })),
      plans: remedy.plans.map((each) => planShown(each, each === plan)),
    },
    rule: fit.rule,
    limits: { lowNm, highNm, source },
    notes: notesOf(fit, remedy, simulated),
    cautions: [...REMEDY_CAUTIONS],
  };
}

function boreShown({ finding, bore, options, deed }: BoreRemedy): Remedy["bores"][number] {
  return {
    name: finding.name,
    diameterMinNm: bore?.minNm ?? null,
    diameterMaxNm: bore?.maxNm ?? null,
    verdict: finding.verdict,
    options: options.map(optionShown),
    chosen: deed === null || deed.open !== null ? null : deed.option.kind,
    near: deed?.near ?? false,
    measureOn: deed?.option.measureOn ?? null,
    advice: bore === null ? NOT_MEASURED : finding.advice,
  };
}

const NOT_MEASURED = "Nothing can be said of it before it is measured at every station under a zero that holds.";

function optionShown(option: RemedyOption): Remedy["bores"][number]["options"][number] {
  const { lifter, unknown, ...rest } = option;
  return {
    ...rest,
    ...(lifter === null ? {} : { lifter }),
    boresTouched: isCutting(option.kind) ? 1 : 0,
    effort: effortOf(option.kind),
    unknown: [...unknown],
  };
}

/** Whether a person has something to do at the bore. */
function isDone({ option, moves }: Deed): boolean {
  return moves || isCutting(option.kind);
}

function deedShown({ bore, option, moves }: Deed): Remedy["block"]["plan"][number] {
  const { kind, lifter, lifterNm, finishLowNm, finishHighNm, removeNm, removeAtLargestNm } = option;
  return {
    bore,
    kind,
    ...(lifter === null ? {} : { lifter }),
    lifterNm,
    moves,
    finishLowNm,
    finishHighNm,
    removeNm,
    removeAtLargestNm,
    clearanceLowNm: option.clearanceLowNm,
    clearanceHighNm: option.clearanceHighNm,
    measureOn: option.measureOn,
  };
}

function planShown(plan: BlockPlan, chosen: boolean): NonNullable<Remedy["block"]["plans"]>[number] {
  const { notFitting, undecided, near, boresTouched, bushes, metalNm, lifterMoves, effort, tightestNm, loosestNm } =
    figuresOf(plan);
  const open = notFitting + undecided;
  return {
    name: plan.name,
    boresTouched,
    metalNm,
    lifterMoves,
    tightestNm,
    loosestNm,
    allFit: open === 0 && near === 0,
    open,
    undecided,
    near,
    bushes,
    effort,
    chosen,
  };
}

/** What a reader must know, as sentences. */
function notesOf(fit: FitInput, remedy: BlockRemedy, simulated: boolean): string[] {
  const notes: string[] = [];
  if (simulated) notes.push("Simulated gauges: nothing was measured, and this proves nothing about a block.");
  if (fit.lifters.size === 0) {
    notes.push(
      `No lifter was measured. Clearances are those of the reference lifter that the micrometer was set to, and every diameter here rests on its nominal ${formatLength(fit.nominalLifterNm, "in", 4)} in: go by what is to be removed and by the clearance, and take no size from here to a machine before that lifter is measured.`,
    );
  } else {
    notes.push(
      "Diameters rest on the scale of the micrometer that measured the lifters. Where it can be done, send the lifters along and let the gauge at the machine be set to them; otherwise compare the two micrometers first.",
    );
  }
  notes.push(
    "Sizes, metal and effort are estimates for planning. A finished size leaves room for the decision rule and for the error of measuring again, so that the bore will be found to fit.",
  );
  if (remedy.noPairing !== null) notes.push(`Lifters can not change places here. ${remedy.noPairing}`);
  const unmeasured = remedy.bores.filter(({ bore }) => bore === null).map(({ finding }) => finding.name);
  if (unmeasured.length > 0) {
    notes.push(`Not measured, and so in no plan: ${unmeasured.join(", ")}. Their lifters stay with them.`);
  }
  const waiting = remedy.open.filter(({ undecided }) => undecided).map(({ bore }) => bore);
  if (waiting.length > 0) {
    notes.push(`Measure better before anything is done to ${waiting.join(", ")}: undecided is not wrong.`);
  }
  const cutUndecided = remedy.plan.deeds.flatMap(({ bore, option }) => {
    const verdict = remedy.bores.find(({ finding }) => finding.name === bore)?.finding.verdict;
    return isCutting(option.kind) && verdict === "undecided" ? [bore] : [];
  });
  if (cutUndecided.length > 0) {
    notes.push(
      `The plan cuts ${cutUndecided.join(", ")}, undecided as measured. Metal does not come back: try first whether a better measurement decides, as said at each bore.`,
    );
  }
  const near = remedy.plan.deeds.flatMap((deed) => (deed.near ? [deed.bore] : []));
  if (near.length > 0) {
    notes.push(
      `Nothing is cut in ${near.join(", ")}, which ${near.length === 1 ? "fits" : "fit"} as planned, but so near what the rule allows that measuring again may find ${near.length === 1 ? "it" : "them"} undecided. Then set the micrometer to the very lifter that goes in, zero, and measure once more.`,
    );
  }
  const special = remedy.plan.deeds.filter(({ option }) => option.measureOn === "its lifter").map(({ bore }) => bore);
  if (special.length > 0) {
    notes.push(
      `Measure ${special.join(", ")} again with the micrometer set to the very lifter that goes in: with another lifter this micrometer's error is twice in the clearance, and too little of the limits would be left.`,
    );
  }
  return notes;
}
