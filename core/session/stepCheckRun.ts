import type { Ms } from "../gauge/ms.ts";
import type { GaugeProfile } from "../gauge/profile.ts";
import { type Nm, toNm } from "../length/nm.ts";
import type { Pass } from "../sweep/sweep.ts";
import { judgeStep, type StepAnswer } from "../zero/stepCheck.ts";
import type { Added, SweepCollector } from "./sweepCollector.ts";
import type { StepCheckView } from "./view.ts";

/** A pass after the micrometer was opened, and what it shows. */
export interface AddedToStepCheck {
  readonly added: Added;
  /** What the step shows so far; null without a zero before it or a usable sweep. */
  readonly answer: (Pick<StepAnswer, "passed" | "answerNm" | "text"> & { readonly openedNm: Nm }) | null;
  /** It has not passed, and more sweeps would not change that. */
  readonly failed: boolean;
}

const NOT_DONE: StepCheckView = { state: "not done", openedNm: null, answerNm: null, text: null, offer: null };

/** The step check of a session: the micrometer is opened by a known step, and the gauge must answer with it. */
export class StepCheckRun {
  readonly #sweepsPerStation: number;
  #open: { readonly openedNm: Nm; readonly collector: SweepCollector } | null = null;
  #view = NOT_DONE;

  /** @param sweepsPerStation after so many kept sweeps an answer stands */
  constructor(sweepsPerStation: number) {
    this.#sweepsPerStation = sweepsPerStation;
  }

  get view(): StepCheckView {
    return this.#view;
  }

  /** The sweeps of the check being made; null while none is. */
  get open(): SweepCollector | null {
    return this.#open?.collector ?? null;
  }

  /** Begins; `openedNm` is how far the micrometer was opened, null for the usual step of the gauge's unit. */
  begin(openedNm: Nm | null, { unit }: Pick<GaugeProfile, "unit">, collector: SweepCollector): void {
    const opened = openedNm ?? usualStep(unit);
    this.#open = { openedNm: opened, collector };
    this.#view = { ...NOT_DONE, state: "measuring", openedNm: opened };
  }

  /** Takes no more sweeps; an answer that was given stands. */
  leave(): void {
    this.#open = null;
  }

  /** The walk goes on, with or without an answer; the record says if there is none. */
  skip(): void {
    if (this.#view.state === "not done" || this.#view.state === "measuring") {
      this.#view = { ...this.#view, state: "skipped" };
    }
  }

  /** Forgets the answer: the gauge is read in another way than when it gave it. A check being made goes on. */
  forget(): void {
    this.#view = NOT_DONE;
  }

  /**
   * Adds a pass that ended at `tMs`; null while no check is made. `zeroNm` is the zero before the micrometer was opened,
   * `gauge` how the gauge is read now. With `atRest` the gauge rests after each.
   */
  add(pass: Pass, tMs: Ms, zeroNm: Nm | null, gauge: GaugeProfile, atRest: boolean): AddedToStepCheck | null {
    const open = this.#open;
    if (open === null) return null;
    const added = open.collector.add(pass, tMs);
    const afterNm = open.collector.valueNm;
    if (zeroNm === null || afterNm === null) return { added, answer: null, failed: false };
    const { openedNm, collector } = open;
    const { unit, resolutionNm } = gauge;
    const { passed, answerNm, text, offer } = judgeStep({ beforeNm: zeroNm, afterNm, openedNm, resolutionNm, unit });
    this.#view = { state: passed ? "passed" : "failed", openedNm, answerNm, text, offer: offerOf(offer, gauge) };
    const failed = !passed && (atRest || this.#stands(collector));
    return { added, answer: { passed, openedNm, answerNm, text }, failed };
  }

  /**
   * Whether a stream's answer is final. A wrong sign or unit is plain from the first sweep; an answer that is merely off
   * may come from a poor one, as on the way in.
   */
  #stands({ closedMs, sweeps }: SweepCollector): boolean {
    const { offer } = this.#view;
    if (offer?.polarity !== undefined || offer?.unit !== undefined || closedMs !== null) return true;
    return sweeps.filter((sweep) => sweep.use === "kept").length >= this.#sweepsPerStation;
  }
}

/** 0.0010 in or 0.02 mm, by the unit the gauge is read in. */
const usualStep = (unit: GaugeProfile["unit"]): Nm => toNm(unit === "in" ? 25_400 : 20_000);

function offerOf(offer: StepAnswer["offer"], { polarity }: GaugeProfile): StepCheckView["offer"] {
  if (offer === null) return null;
  return {
    ...(offer.flipPolarity === true ? { polarity: polarity === 1 ? ("-" as const) : ("+" as const) } : {}),
    ...(offer.unit === undefined ? {} : { unit: offer.unit }),
    ...(offer.gain === undefined ? {} : { gain: offer.gain }),
  };
}
