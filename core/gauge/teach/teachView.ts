import type { Nm } from "../../length/nm.ts";
import type { GaugeUnit } from "../../length/unit.ts";
import type { Learnt } from "../learnLines.ts";
import type { LineEnd } from "./heardLine.ts";
import type { SerialSetting } from "./serialSetting.ts";

/**
 * How far the teaching is. `listening`: not enough was heard; `found`: the gauge is understood; `no-end`: readings come,
 * and no line ends; `silent`: nothing came with any setting of the control lines; `babble`: something comes, and at no
 * speed is it text; `flood`: more comes than any gauge sends; `wrong`: plain text comes that holds no reading.
 */
export type TeachState = "listening" | "found" | "no-end" | "silent" | "babble" | "flood" | "wrong";

/** A setting that was tried and left, with what came there. */
export interface TriedSetting {
  readonly setting: SerialSetting;
  readonly bytes: number;
  readonly heard: string;
}

export interface TaughtLine {
  readonly hex: string;
  readonly raw: string;
  /** Null when it is no reading; then `why` says why. */
  readonly understood: string | null;
  readonly why: string | null;
}

/** What has been heard and made of it so far. */
export interface TeachView {
  readonly state: TeachState;
  readonly setting: SerialSetting;
  /** Whether the next setting is tried by itself. */
  readonly searching: boolean;
  readonly tried: readonly TriedSetting[];
  /** The newest lines at this setting, oldest first. */
  readonly lines: readonly TaughtLine[];
  /** What was seen, and what to do now. */
  readonly sentence: string;
  readonly format: Learnt["format"];
  /** Null while it is not known; `unitFrom` says whence it is. */
  readonly unit: GaugeUnit | null;
  readonly unitFrom: "lines" | "hand" | "digits" | null;
  readonly resolutionNm: Nm | null;
  readonly sends: Learnt["sends"];
  readonly lineEnd: LineEnd | null;
  /** Time after opening for which what comes is not trusted, ms. */
  readonly settleMs: number;
}
