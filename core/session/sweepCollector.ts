import type { Ms } from "../gauge/ms.ts";
import type { Sends } from "../gauge/profile.ts";
import type { Nm } from "../length/nm.ts";
import { judgeStation, type StationJudgement, type StationPass } from "../sweep/judgeStation.ts";
import type { AgreementRule, Pass, Sweep } from "../sweep/sweep.ts";

/** What became of a pass that was added. */
export interface Added {
  readonly sweep: Sweep;
  /** This pass closed the station. */
  readonly closes: boolean;
  /** The station was closed already and this sweep joined it. */
  readonly joins: boolean;
  /** The station has just been found without agreement. */
  readonly disagrees: boolean;
  /** The station was closed, and this pass showed that the sweeps it closed on do not agree after all. */
  readonly reopens: boolean;
}

const EMPTY: StationJudgement = {
  sweeps: [],
  closed: false,
  noAgreement: false,
  valueNm: null,
  spreadNm: null,
  disagreeing: [],
};

/** Gathers the sweeps of one place, be it a station of a bore or the micrometer, until they agree. */
export class SweepCollector {
  readonly #sends: Sends;
  readonly #rule: AgreementRule;
  readonly #resolutionNm: Nm;
  #passes: StationPass[] = [];
  /** Sweeps of earlier attempts at this place, all struck. */
  #past: Sweep[] = [];
  #closedBefore: number | null = null;
  #closedMs: Ms | null = null;
  #lastMs: Ms | null = null;
  #judgement: StationJudgement = EMPTY;
  readonly #changed: () => void;

  /** @param changed called when a closed place has changed, or has closed or opened. */
  constructor(sends: Sends, rule: AgreementRule, resolutionNm: Nm, changed: () => void = () => {}) {
    this.#changed = changed;
    this.#sends = sends;
    this.#rule = rule;
    this.#resolutionNm = resolutionNm;
  }

  /** Every sweep made here, struck and set-aside ones included, in order of time. */
  get sweeps(): readonly Sweep[] {
    return this.#past.length === 0 ? this.#judgement.sweeps : [...this.#past, ...this.#judgement.sweeps];
  }

  /** When the sweeps first agreed; null while open. */
  get closedMs(): Ms | null {
    return this.#closedMs;
  }

  /** Twelve sweeps or more and still no agreement. */
  get noAgreement(): boolean {
    return this.#judgement.noAgreement && this.#closedMs === null;
  }

  /** What the usable sweeps say so far, nm; null without one. Settled only once `closedMs` is set. */
  get valueNm(): Nm | null {
    return this.#judgement.valueNm;
  }

  get spreadNm(): Nm | null {
    return this.#judgement.spreadNm;
  }

  /** Whether a sweep stands here that could be struck. */
  get hasSweep(): boolean {
    return this.#passes.some((entry) => !entry.struck);
  }

  /** Adds a pass that ended at `tMs`. */
  add(pass: Pass, tMs: Ms): Added {
    const wasClosed = this.#closedMs !== null;
    const disagreed = this.noAgreement;
    this.#passes.push({ pass, struck: false });
    this.#lastMs = tMs;
    this.#judge();
    if (!wasClosed && this.#judgement.closed) {
      this.#closedMs = tMs;
      this.#closedBefore = this.#passes.length;
    }
    if (wasClosed || this.#closedMs !== null) this.#changed();
    const sweep = this.#judgement.sweeps.at(-1);
    if (sweep === undefined) throw new Error("a judgement must list every pass");
    return {
      sweep,
      closes: !wasClosed && this.#closedMs !== null,
      joins: wasClosed && this.#closedMs !== null && sweep.use === "kept",
      disagrees: !disagreed && this.noAgreement,
      reopens: wasClosed && this.#closedMs === null,
    };
  }

  /** Strikes the last sweep that stands; false if there is none. */
  strikeLast(): boolean {
    const index = this.#passes.findLastIndex((entry) => !entry.struck);
    const entry = this.#passes[index];
    if (entry === undefined) return false;
    this.#passes[index] = { ...entry, struck: true };
    this.#judge();
    this.#changed();
    return true;
  }

  /**
   * Strikes the sweep whose smallest reading was at `sweepMs`, or gives it back; false if none of the present attempt is
   * there. The station may close by it, as at its last sweep, or be open again.
   */
  reconsider(sweepMs: Ms, use: "kept" | "struck"): boolean {
    // Two presses may fall into the same millisecond: one that does not stand as wanted yet.
    const index = this.#judgement.sweeps.findIndex(
      (sweep, at) => sweep.tMs === sweepMs && this.#passes[at]?.struck !== (use === "struck"),
    );
    const entry = this.#passes[index];
    if (entry === undefined) return false;
    this.#passes[index] = { ...entry, struck: use === "struck" };
    const wasClosed = this.#closedMs;
    this.#closedBefore = null;
    this.#closedMs = null;
    this.#judge();
    if (this.#judgement.closed) {
      this.#closedMs = wasClosed ?? this.#lastMs;
      this.#closedBefore = this.#passes.length;
    }
    this.#changed();
    return true;
  }

  /** Takes everything back: all sweeps are struck and the place is open again. */
  takeBack(): void {
    this.#past = this.sweeps.map((sweep): Sweep => {
      const { why: _, ...rest } = sweep;
      return { ...rest, use: "struck" };
    });
    this.#passes = [];
    this.#closedBefore = null;
    this.#closedMs = null;
    this.#judgement = EMPTY;
    this.#changed();
  }

  #judge(): void {
    this.#judgement = judgeStation(
      this.#passes,
      this.#sends,
      this.#rule,
      this.#resolutionNm,
      this.#closedBefore,
      this.#judgement,
    );
    if (this.#closedMs === null || this.#judgement.closed) return;
    this.#closedMs = null;
    this.#closedBefore = null;
  }
}
