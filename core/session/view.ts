import type { StationPlace } from "../block/layout.ts";
import type { BoreFinding } from "../fit/finding.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { Sweep } from "../sweep/sweep.ts";
import type { JudgedReference } from "../zero/reference.ts";
import type { LinkState, StepName } from "./event.ts";
import type { FeelView } from "./feel.ts";
import type { Notice } from "./notice.ts";

export interface GaugeView {
  readonly id: string;
  readonly link: LinkState;
  /** The last line as received; null before the first. */
  readonly lastLine: string | null;
  /** What the last understood line said, nm, polarity applied. */
  readonly lastNm: Nm | null;
  readonly lastMs: Ms | null;
  readonly understood: number;
  readonly notUnderstood: number;
  /** Why the last line was not understood; null when it was. */
  readonly whyNot: string | null;
}

export interface LifterView {
  readonly name: string;
  readonly diameterNm: Nm | null;
  readonly readings: readonly Nm[];
  /** How many of its readings a person typed; absent where none. */
  readonly typed?: number;
}

export interface StepCheckView {
  readonly state: "not done" | "measuring" | "passed" | "failed" | "skipped";
  readonly openedNm: Nm | null;
  readonly answerNm: Nm | null;
  /** What it showed and what to do; null before it was done. */
  readonly text: string | null;
  readonly offer: { readonly polarity?: "+" | "-"; readonly unit?: "in" | "mm"; readonly gain?: number } | null;
}

/** Where the walk stands now. */
export interface HereView {
  readonly bore: string;
  readonly place: StationPlace;
  readonly state: "open" | "closed" | "no-agreement";
  readonly sweeps: readonly Sweep[];
  /** Clearance from the sweeps so far (nm), null without a sweep or a zero; an estimate while `state` is `open`. */
  readonly clearanceNm: Nm | null;
  /** Live clearance from the last reading, nm; null without a zero or a reading in the working range. */
  readonly liveNm: Nm | null;
}

/** What to do now, as one sentence, and the step the program would move on to. */
export interface Guide {
  readonly sentence: string;
  /** The step to choose next when the present one is done; null while it is not. */
  readonly next: StepName | null;
}

/** Everything a screen needs of a session, a plain serialisable snapshot. */
export interface SessionView {
  /** Number of events applied. */
  readonly n: number;
  readonly tMs: Ms;
  readonly step: StepName | null;
  readonly held: boolean;
  readonly gauges: readonly GaugeView[];
  readonly lifters: readonly LifterView[];
  readonly nextLifter: string | null;
  /** Sweeps of the zero or return check being taken. */
  readonly referenceSweeps: readonly Sweep[];
  readonly references: readonly JudgedReference[];
  /** Range of readings that count as in a bore, nm; null before a zero. */
  readonly workingRange: { readonly lowNm: Nm; readonly highNm: Nm } | null;
  readonly stepCheck: StepCheckView;
  readonly here: HereView | null;
  /** The bore after this one, null at the last. */
  readonly nextBore: string | null;
  readonly returnDue: boolean;
  readonly bores: readonly BoreFinding[];
  /** What was found by hand, with oil, where anything was entered; in walk order. */
  readonly feel: readonly FeelView[];
  /** Newest last; cured ones carry `curedMs`. */
  readonly notices: readonly Notice[];
  readonly guide: Guide;
  readonly complete: boolean;
}

/**
 * A snapshot in which findings may be left out. `measured` are those of the bores that were just measured, where all of
 * them follow later: a station changes a little at every bore, and to find, send and draw them all takes a while.
 */
export type ViewChange = Omit<SessionView, "bores"> &
  Partial<Pick<SessionView, "bores">> & { readonly measured?: readonly BoreFinding[] };
