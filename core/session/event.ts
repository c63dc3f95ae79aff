import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";

/** What the operator chooses on screen; the walk's phases. */
export type StepName = "lifters" | "zero" | "step-check" | "bores" | "return";

/** Whether a gauge's port is there: opened, lost (cable pulled, device gone) or closed on purpose. */
export type LinkState = "open" | "lost" | "closed";

/** What is fed to the reducer; the same records that a session file holds, without number and seal. */
export type SessionInput =
  | {
      readonly type: "line";
      readonly t: Ms;
      readonly gauge: string;
      readonly line: string;
      /** A person typed it, as read from a dial or display; absent where the gauge sent it. */
      readonly by?: "hand";
    }
  | {
      readonly type: "link";
      readonly t: Ms;
      readonly gauge: string;
      readonly link: LinkState;
      readonly path?: string;
      /** Of a lost one, where it was more than a pulled cable: what happened, and what to do about it. */
      readonly why?: string;
    }
  | {
      readonly type: "step";
      readonly t: Ms;
      readonly step: StepName;
      /** With `zero` and `return`: the lifter the micrometer is set to. */
      readonly lifter?: string;
      /** With `step-check`: how far the micrometer was opened, nm, positive. */
      readonly openedNm?: Nm;
      readonly blockC?: number;
      readonly lifterC?: number;
      /** `guide` when the program moved on by itself because the step before was done. */
      readonly by?: "operator" | "guide";
    }
  | { readonly type: "temperature"; readonly t: Ms; readonly blockC?: number; readonly lifterC?: number }
  | { readonly type: "take"; readonly t: Ms }
  | { readonly type: "strike"; readonly t: Ms }
  | { readonly type: "back"; readonly t: Ms }
  | { readonly type: "hold"; readonly t: Ms; readonly on: boolean }
  | { readonly type: "go"; readonly t: Ms; readonly bore: string; readonly station?: StationPlace }
  /** Nothing came for so long that it means something (rocking stopped, stream silent). */
  | { readonly type: "silence"; readonly t: Ms }
  /** The operator accepted a correction that the step check offered. */
  | {
      readonly type: "correct";
      readonly t: Ms;
      readonly gauge: string;
      readonly polarity?: "+" | "-";
      readonly unit?: "in" | "mm";
      readonly gain?: number;
    }
  /**
   * The operator accepted a pairing: each lifter goes into the bore named beside it. A bore left out keeps its own, so an
   * empty list puts every lifter back.
   */
  | {
      readonly type: "pairing";
      readonly t: Ms;
      readonly assignments: readonly { readonly bore: string; readonly lifter: string }[];
    }
  /**
   * In a session derived from another, somebody who looked at the record again struck a sweep, or gave one back. The
   * sweep is told by the time of its smallest reading; without a bore it is one in the micrometer.
   */
  | {
      readonly type: "reconsider";
      readonly t: Ms;
      readonly bore?: string;
      readonly station?: StationPlace;
      readonly sweepMs: Ms;
      readonly use: "kept" | "struck";
    }
  /**
   * What the operator found by hand when the oiled lifter was let down into the bore; the last entry for a bore counts,
   * and null withdraws it.
   */
  | {
      readonly type: "feel";
      readonly t: Ms;
      readonly bore: string;
      readonly found: "free" | "drags" | "binds" | null;
      /** With which oil. */
      readonly oil?: string;
      readonly note?: string;
    }
  /** The session was opened again to go on with it. */
  | { readonly type: "resumed"; readonly t: Ms; readonly app: string }
  /** A torn last record was set aside when the session was opened. */
  | { readonly type: "torn"; readonly t: Ms; readonly bytes: number }
  | { readonly type: "note"; readonly t: Ms; readonly text: string };
