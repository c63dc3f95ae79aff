import type { StepName } from "./event.ts";
import type { Guide } from "./view.ts";

/** What the guide is told of the session's state. */
export interface GuideInput {
  readonly step: StepName | null;
  readonly hasMicrometer: boolean;
  readonly nextLifter: string | null;
  readonly hasZero: boolean;
  /** The reference being taken is closed and the gauge has come to rest or left the micrometer. */
  readonly referenceDone: boolean;
  readonly referenceSweeps: number;
  readonly zeroMoved: boolean;
  readonly stepCheckPassed: boolean | null;
  readonly returnDue: boolean;
  /** The walk stands between two bores: nothing has been measured at the open station. */
  readonly betweenBores: boolean;
  /** The work stood still for long: the check comes first, also in the middle of a bore. */
  readonly interrupted: boolean;
  readonly complete: boolean;
  /** `typed`: a person reads the bore gauge's dial and types. */
  readonly sends: "stream" | "press" | "held" | "typed";
  /** The micrometer has no data output: its readings are typed. */
  readonly typesLifters: boolean;
}

/** A step to move on to, and whether the program may do so by itself during the hands-free walk. */
export interface NextStep {
  readonly step: StepName;
  readonly auto: boolean;
}

/**
 * The step to choose next once the present one is done, or null while it is not. Between bores and return checks the
 * program moves on by itself, since both hands are on the gauge; elsewhere the operator chooses.
 */
export function nextStep(input: GuideInput): NextStep | null {
  switch (input.step) {
    case null:
      return { step: input.hasMicrometer ? "lifters" : "zero", auto: false };
    case "lifters":
      return input.nextLifter === null ? { step: "zero", auto: false } : null;
    case "zero":
      return input.referenceDone ? { step: "bores", auto: false } : null;
    case "step-check":
      if (!input.hasZero) return { step: "zero", auto: false };
      return input.stepCheckPassed === true ? { step: "bores", auto: false } : null;
    case "bores":
      if (input.complete) return null;
      return isReturnNext(input) ? { step: "return", auto: true } : null;
    case "return":
      if (!input.referenceDone || input.complete) return null;
      return { step: "bores", auto: true };
  }
}

/** How one sweep is made. */
const SWEEP: Readonly<Record<GuideInput["sends"], string>> = {
  stream: "rock the gauge through square",
  press: "find the smallest reading and press",
  held: "find the smallest reading and press",
  typed: "rock it, read the smallest, and type it",
};

/** A check that is due waits for the bore in hand to be finished, unless the bench has stood still since. */
const isReturnNext = ({ returnDue, betweenBores, interrupted }: GuideInput) =>
  returnDue && (betweenBores || interrupted);

function sentenceFor(input: GuideInput): string {
  const sweep = SWEEP[input.sends];
  switch (input.step) {
    case null:
      return input.hasMicrometer
        ? "Begin with the lifters: measure each one with the micrometer."
        : "Begin with the zero: set the micrometer to a lifter and lock it.";
    case "lifters":
      return input.nextLifter === null
        ? "Every lifter is measured. Go on to the zero."
        : `Measure lifter ${input.nextLifter} on its full-diameter bands and ${input.typesLifters ? "type its diameter" : "press the micrometer's button"}.`;
    case "zero":
      if (input.referenceDone) return "The zero is taken. Prove it by the step check, or go to the bores.";
      return `Set the micrometer to the lifter, lock it, put the gauge in it and ${sweep}.`;
    case "step-check":
      if (!input.hasZero) return "There is no zero yet: take it in the micrometer first.";
      if (input.stepCheckPassed === true) return "The gauge answered the step rightly. Go to the bores.";
      return `Open the micrometer by exactly the step and ${sweep} once more.`;
    case "return":
      if (input.complete) return "The last return check held. The walk is complete.";
      if (!input.referenceDone) return `Return check: put the gauge back in the locked micrometer and ${sweep}.`;
      return input.zeroMoved
        ? "The zero has moved. The bores since the last check that held are due again."
        : "The zero held. Go on with the bores.";
    case "bores":
      if (input.complete) return "The walk is complete.";
      if (!input.hasZero) return "There is no zero yet: take it in the micrometer first.";
      if (isReturnNext(input)) {
        return `Return check is due: put the gauge back in the locked micrometer and ${sweep}.`;
      }
      return input.sends === "stream"
        ? "Rock the gauge through square until the tone; then hold still or take it out."
        : input.sends === "typed"
          ? "Rock the gauge, read the smallest on its dial, and type it."
          : "Find the smallest reading and press the data button.";
  }
}

/** What to do now, in one sentence, and the step that follows. */
export function guideFor(input: GuideInput): Guide {
  return { sentence: sentenceFor(input), next: nextStep(input)?.step ?? null };
}
