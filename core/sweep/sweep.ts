import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";

/** One reading of a stream with its time; polarity already applied, so a rocking sweep turns at its smallest. */
export interface Sample {
  readonly tMs: Ms;
  readonly valueNm: Nm;
}

/** What ended a pass: the next maximum, the rocking stopping, the gauge leaving, the user, or a data button. */
export type PassEnd = "turned" | "stopped" | "withdrawn" | "contact-lost" | "taken" | "press" | "held";

/** One rocking pass of the gauge through square, cut at the maxima on either side of its minimum. */
export interface Pass {
  readonly samples: readonly Sample[];
  readonly end: PassEnd;
  /** A person typed it, as read from a dial or display. */
  readonly typed?: true;
}

/** Whether a sweep counts towards its station. */
export type SweepUse = "kept" | "struck" | "set aside";

/** Why a sweep was set aside. `disagrees` joins after closing only: it did not repeat the closed station. */
export type SetAsideReason = "too-quick" | "contact-lost" | "outlier" | "disagrees" | "frozen";

/** How a turning point was found: rhythm model, parabola, or the smallest sample itself. */
export type TurningPointMethod = "rhythm" | "parabola" | "raw";

/** A sweep as recorded: its smallest sample and the turning point fitted through it. */
export interface Sweep {
  /** Time of the smallest sample. */
  readonly tMs: Ms;
  /** Smallest sample, nm, signed, polarity applied. */
  readonly rawMinNm: Nm;
  /** Fitted turning point, nm, signed; equals `rawMinNm` when `method` is `raw`. */
  readonly turningPointNm: Nm;
  /** Samples in the pass, at least 1. */
  readonly samples: number;
  readonly method: TurningPointMethod;
  /** Why the better model was not used, when it was not. */
  readonly methodWhy?: string;
  readonly use: SweepUse;
  /** A person typed it, as read from a dial or display; absent where the gauge sent it. */
  readonly typed?: true;
  /** Present when `use` is `set aside`. */
  readonly why?: SetAsideReason;
}

/** What decides when a station is good. */
export interface AgreementRule {
  readonly sweepsPerStation: number;
  /** Largest range of the last `sweepsPerStation` sweeps, nm, included. */
  readonly agreementNm: Nm;
}
