import { playScore } from "./playScore.ts";
import type { ToneName } from "./score.ts";

let context: AudioContext | null = null;

/** Wakes the audio; a page may not sound before someone has touched it, so this is called from gestures. */
export function wakeAudio(): void {
  context ??= new AudioContext();
  if (context.state === "suspended") void context.resume();
}

/** Plays a tone in `inMs` (ms from now) at `volume` (0 … 1); silent, and no error, while the audio has not been woken. */
export function playTone(tone: ToneName, volume: number, inMs = 0): void {
  if (context === null || context.state !== "running") return;
  playScore(context, tone, context.currentTime + 0.01 + inMs / 1000, volume);
}
