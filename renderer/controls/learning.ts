import { create } from "zustand";
import type { WalkKey } from "../store/settings.ts";

/** A control that waits for its key or its pedal to be pressed, and why the last one was refused. */
export interface Learning {
  readonly wanted: { readonly by: "key" | "pedal"; readonly control: WalkKey } | null;
  readonly refused: string | null;
}

export const useLearning = create<Learning>()(() => ({ wanted: null, refused: null }));

/** Waits for a key or pedal for a control; null waits no longer. */
export function learn(wanted: Learning["wanted"]): void {
  useLearning.setState({ wanted, refused: null });
}
