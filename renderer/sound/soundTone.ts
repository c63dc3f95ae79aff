import { useStore } from "../store/store.ts";
import { playTone } from "./audio.ts";
import type { ToneName } from "./score.ts";

/** Plays a tone in `inMs` (ms from now) as the settings have it: not at all where it, or every tone, is turned off. */
export function soundTone(tone: ToneName, inMs = 0): void {
  const { sound, loudness, tones } = useStore.getState().settings;
  if (sound && loudness > 0 && tones[tone]) playTone(tone, loudness, inMs);
}
