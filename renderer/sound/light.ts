import { create } from "zustand";
import type { ToneName } from "./score.ts";

/** The light on the screen that goes with every tone: which, and how many there have been, so that a repeat shows. */
export interface Light {
  readonly tone: ToneName | null;
  readonly count: number;
}

export const useLight = create<Light>()(() => ({ tone: null, count: 0 }));

/** Lights up with a tone. */
export function lightUp(tone: ToneName): void {
  useLight.setState(({ count }) => ({ tone, count: count + 1 }));
}

/** The light in words, short enough to be read at a glance. */
export const LIGHT_WORDS: Readonly<Record<ToneName, string>> = {
  sweep: "sweep heard",
  kept: "kept",
  opened: "next station",
  bore: "next bore",
  strike: "taken back",
  outside: "outside limits",
  return: "return check",
  hold: "hold",
  trouble: "trouble",
  complete: "complete",
};
