import type { StepName } from "../../core/session/event.ts";

/** The places of the window, in the order of the work. */
export const PLACES = [
  "Start",
  "Job",
  "Gauges",
  "Lifters",
  "Zero",
  "Bores",
  "Findings",
  "Remedy",
  "Recheck",
  "Study",
  "Handover",
  "Settings",
] as const;

export type Place = (typeof PLACES)[number];

/** Where the work of a step is seen. */
export const PLACE_OF_STEP: Readonly<Record<StepName, Place>> = {
  lifters: "Lifters",
  zero: "Zero",
  "step-check": "Zero",
  return: "Zero",
  bores: "Bores",
};

/** Places in which a keyboard-type cable may type. */
export function takesTyping(place: Place): boolean {
  return place === "Lifters" || place === "Zero" || place === "Bores";
}
