import type { StationPlace } from "../../block/layout.ts";
import type { Ms } from "../../gauge/ms.ts";
import type { GaugeProfile } from "../../gauge/profile.ts";
import type { Sweep } from "../../sweep/sweep.ts";
import type { JudgedReference } from "../../zero/reference.ts";
import type { Job } from "../job.ts";
import type { NoticeCode } from "../notice.ts";
import type { NoticeWhere } from "../noticeBoard.ts";
import type { LifterView, StepCheckView } from "../view.ts";

/** A blunder that the data point to: a notice that stands as long as its rule finds it. */
export interface Suspicion {
  readonly code: NoticeCode;
  /** What was seen, then what to do. */
  readonly text: string;
  readonly where: NoticeWhere;
}

/** A gauge as the rules see it. */
export interface SeenGauge {
  /** As it is read now, corrections applied. */
  readonly profile: GaugeProfile;
  /** Digits after the point of its last understood line; null before the first. */
  readonly decimals: number | null;
  /** Smallest step its display was seen to make, nm; null before that can be told. */
  readonly stepNm: number | null;
}

/** A closed station whose zero holds. */
export interface SeenStation {
  readonly bore: string;
  readonly place: StationPlace;
  readonly tMs: Ms;
  /** Bore minus the size the micrometer was set to, nm, signed, gain applied; not rounded. */
  readonly overZeroNm: number;
  readonly sweeps: readonly Sweep[];
}

/** A bore with all of its stations measured, in one moment. */
export interface WholeBore {
  readonly name: string;
  /** When its last station closed. */
  readonly tMs: number;
  /** Over the zero, nm, one a station in the order of the job. */
  readonly valuesNm: readonly number[];
  readonly meanNm: number;
}

/** What the rules look at: a session at one moment. Nothing in it is changed by looking. */
export interface Sight {
  readonly job: Job;
  readonly bore: SeenGauge;
  readonly micrometer: SeenGauge | null;
  /** In walk order; readings of lifters that are not complete included. */
  readonly lifters: readonly LifterView[];
  /** In the order they closed. */
  readonly stations: readonly SeenStation[];
  /** Of those the bores that are whole (`wholeBores`). */
  readonly bores: readonly WholeBore[];
  /** Zeros and return checks in order of time. */
  readonly references: readonly JudgedReference[];
  readonly stepCheck: StepCheckView;
  readonly temperaturesMeasured: boolean;
  /** The station that has closed while the gauge was neither held still nor taken out; null otherwise. */
  readonly lingering: { readonly bore: string; readonly place: StationPlace; readonly sweeps: readonly Sweep[] } | null;
  /** What the stream shows before it is cut into sweeps; nothing of it for other gauges. */
  readonly stream: {
    /** The rocking turns at its largest readings. */
    readonly turnsAtLargest: boolean;
    /** The readings stand below anything a bore can be. */
    readonly belowRange: boolean;
    /** The swings are taller than a hand can rock. */
    readonly tall: boolean;
  };
  /** Presses in a row that were far above the working range, relative to the zero, nm, oldest first. */
  readonly farPressesNm: readonly number[];
}

/** One rule: what it looks for, and all that it finds now; nothing when it cannot tell. */
export type Rule<Seen> = (sight: Seen) => readonly Suspicion[];

export const NOTHING: readonly Suspicion[] = Object.freeze([]);

/** Name of a bore and station for a sentence. */
export function nameOf(bore: string, place: StationPlace): string {
  return `${bore} ${place.height} ${place.clock}`;
}

/** Clearances this small and this large still suit the job's limits loosely: half of the low, twice the high, nm. */
export function looseLimits(job: Pick<Job, "limits">): { readonly lowNm: number; readonly highNm: number } {
  const { lowNm, highNm, serviceHighNm } = job.limits;
  return { lowNm: lowNm / 2, highNm: 2 * Math.max(highNm, serviceHighNm ?? highNm) };
}
