import type { StationPlace } from "../../core/block/layout.ts";
import type { StepName } from "../../core/session/event.ts";
import type { Notice } from "../../core/session/notice.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { stationKey } from "./bench.ts";

/** What a person at the bench can tell from tones and lights: the part of an outcome that matters to the hands. */
export type Tone =
  | { readonly type: "step"; readonly step: StepName }
  | { readonly type: "lifter"; readonly name: string; readonly readings: number }
  | { readonly type: "zero" }
  | { readonly type: "step-check"; readonly passed: boolean }
  | { readonly type: "station"; readonly bore: string; readonly place: StationPlace }
  | { readonly type: "opened"; readonly bore: string; readonly place: StationPlace }
  | {
      readonly type: "struck";
      readonly what: "sweep" | "station";
      readonly bore?: string;
      readonly place?: StationPlace;
    }
  | { readonly type: "notice"; readonly notice: Pick<Notice, "bore" | "height" | "clock"> & { readonly code: string } }
  | { readonly type: "complete" };

/** A station the person is sent to. */
export interface Target {
  readonly bore: string;
  readonly place: StationPlace;
}

/** What the person has heard so far and what it means for the next move. Every outcome may be told, in order. */
export class Ear {
  readonly #walk: readonly Target[];
  readonly #pressesPerLifter: number;
  readonly #done = new Set<string>();
  readonly #lifters = new Set<string>();
  /** The step chosen last, and how many times one was chosen. */
  step: StepName | null = null;
  steps = 0;
  /** Counts "opened" and "struck": the person must look again where to go. */
  turns = 0;
  /** The zero or return check of the present step is good; the step check of it was answered. */
  referenceGood = false;
  stepAnswered = false;
  /** Sweeps and strikes heard, each of which answers a press. */
  answers = 0;
  /** Trouble by its code, counted. */
  readonly troubles = new Map<string, number>();
  complete = false;
  #here: Target | null = null;

  constructor(walk: readonly Target[], pressesPerLifter: number) {
    this.#walk = walk;
    this.#pressesPerLifter = pressesPerLifter;
  }

  /** Where the gauge should be: where the tool said last, or else the first station not yet heard to be good. */
  target(): Target | null {
    if (this.#here !== null) return this.#here;
    return this.#walk.find((target) => !this.#done.has(stationKey(target.bore, target.place))) ?? null;
  }

  isGood(target: Target): boolean {
    return this.#done.has(stationKey(target.bore, target.place));
  }

  lifterHeard(name: string): boolean {
    return this.#lifters.has(name);
  }

  hear(tone: Tone | Outcome): void {
    if (tone.type === "sweep" || tone.type === "struck") this.answers += 1;
    switch (tone.type) {
      case "step":
        this.step = tone.step;
        this.steps += 1;
        this.referenceGood = false;
        this.stepAnswered = false;
        this.#here = null;
        return;
      case "lifter":
        if (tone.readings >= this.#pressesPerLifter) this.#lifters.add(tone.name);
        return;
      case "zero":
        this.referenceGood = true;
        return;
      case "step-check":
        this.stepAnswered = true;
        return;
      case "station":
        this.#done.add(stationKey(tone.bore, tone.place));
        if (this.#here?.bore === tone.bore && isPlace(this.#here.place, tone.place)) this.#here = null;
        return;
      case "opened":
        this.#done.delete(stationKey(tone.bore, tone.place));
        this.#here = { bore: tone.bore, place: tone.place };
        this.turns += 1;
        this.complete = false;
        return;
      case "struck":
        if (tone.bore !== undefined && tone.place !== undefined && tone.what === "station") {
          this.#done.delete(stationKey(tone.bore, tone.place));
          this.turns += 1;
        } else if (tone.bore === undefined) {
          this.referenceGood = false;
        } else if (tone.place === undefined) {
          this.#lifters.delete(tone.bore);
        }
        return;
      case "notice": {
        // A station that was good may turn out not to be: back to it.
        const { code, bore, height, clock } = tone.notice;
        if (code === "no-agreement" && bore !== undefined && height !== undefined && clock !== undefined) {
          this.#done.delete(stationKey(bore, { height, clock: clock as StationPlace["clock"] }));
        } else if (code === "no-agreement" && bore === undefined) {
          this.referenceGood = false;
          this.complete = false;
        }
        this.troubles.set(code, (this.troubles.get(code) ?? 0) + 1);
        return;
      }
      case "complete":
        this.complete = true;
        return;
      default:
        return;
    }
  }
}

const isPlace = (one: StationPlace, other: StationPlace) => one.height === other.height && one.clock === other.clock;
