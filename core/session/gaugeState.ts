import { createLineReader, type LineReader } from "../gauge/lineReader.ts";
import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { LinkState } from "./event.ts";
import type { JobGauge } from "./job.ts";
import type { GaugeView } from "./view.ts";
import { DisplayStep } from "./watch/displayStep.ts";
import type { SeenGauge } from "./watch/sight.ts";

/** One gauge as the session run knows it; changed in place with every line. */
export interface GaugeState {
  profile: JobGauge;
  reader: LineReader;
  link: LinkState;
  lastLine: string | null;
  lastNm: Nm | null;
  lastMs: Ms | null;
  understood: number;
  notUnderstood: number;
  whyNot: string | null;
  /** Digits after the point of the last understood line; null before the first. */
  decimals: number | null;
  step: DisplayStep;
}

/** A gauge that nothing has been heard of yet. */
export function newGaugeState(profile: JobGauge): GaugeState {
  return {
    profile,
    reader: createLineReader(profile),
    link: "closed",
    lastLine: null,
    lastNm: null,
    lastMs: null,
    understood: 0,
    notUnderstood: 0,
    whyNot: null,
    decimals: null,
    step: new DisplayStep(profile.sends === "stream"),
  };
}

/** A gauge as the rules of the watch see it. */
export function seenGauge({ profile, decimals, step }: GaugeState): SeenGauge {
  return { profile, decimals, stepNm: step.smallestNm };
}

/** A gauge as a screen shows it. */
export function viewGauge(gauge: GaugeState): GaugeView {
  const { profile, reader: _, decimals: _decimals, step: _step, ...rest } = gauge;
  return { id: profile.id, ...rest };
}
