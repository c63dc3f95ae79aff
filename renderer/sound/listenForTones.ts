import { jobOf } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { lightUp } from "./light.ts";
import { playScore } from "./playScore.ts";
import { type ToneName, TROUBLE_EVERY_MS } from "./score.ts";
import { speakOutcome } from "./speech.ts";
import { troubleSounds } from "./standingTrouble.ts";
import { tonesOf } from "./tonesOf.ts";

const VOLUME = 0.5;

let users = 0;
let stop: (() => void) | null = null;

/**
 * Plays and lights the tones of the open session from now on. May be asked for by several places at once; the last
 * one that lets go ends it. Tones come from outcomes only, and those only after their record is on disk.
 */
export function listenForTones(): () => void {
  users += 1;
  if (users === 1) stop = start();
  let held = true;
  return () => {
    if (!held) return;
    held = false;
    users -= 1;
    if (users === 0) stop?.();
  };
}

function start(): () => void {
  let context: AudioContext | null = null;
  let busyUntil = 0;
  let seen = useStore.getState().outcomeCount;
  const timers = new Set<ReturnType<typeof setTimeout>>();

  // A page may not sound before someone has touched it; every gesture until then is an opportunity.
  const wake = () => {
    context ??= new AudioContext();
    if (context.state === "suspended") void context.resume();
  };
  const gestures = ["pointerdown", "keydown", "touchend"] as const;
  for (const gesture of gestures) window.addEventListener(gesture, wake, { capture: true, passive: true });

  const sound = (tone: ToneName, inMs: number) => {
    const timer = setTimeout(() => {
      timers.delete(timer);
      lightUp(tone);
    }, inMs);
    timers.add(timer);
    if (!useStore.getState().settings.sound || context === null || context.state !== "running") return;
    playScore(context, tone, context.currentTime + 0.01 + inMs / 1000, VOLUME);
  };

  const unsubscribe = useStore.subscribe((state, before) => {
    if (state.outcomeCount === seen) return;
    if (state.session?.id !== before.session?.id) busyUntil = 0;
    const fresh = state.lastOutcomes.filter(({ count }) => count > seen).map(({ outcome }) => outcome);
    seen = state.outcomeCount;
    const limits = state.session === null ? null : (jobOf(state.session)?.limits ?? null);
    const now = performance.now();
    // A tone that is still sounding is let end, unless so much has come that the sound would lag behind the hands.
    const wait = busyUntil - now > 1500 ? 0 : Math.max(0, busyUntil - now);
    for (const { tone, inMs } of tonesOf(fresh, state.view, limits)) {
      sound(tone, wait + inMs);
      busyUntil = now + wait + inMs + 300;
    }
    if (state.settings.speech) for (const outcome of fresh) speakOutcome(outcome);
  });

  const again = setInterval(() => {
    const { view, saved } = useStore.getState();
    if (troubleSounds(view, saved.trouble)) sound("trouble", 0);
  }, TROUBLE_EVERY_MS);

  return () => {
    unsubscribe();
    clearInterval(again);
    for (const timer of timers) clearTimeout(timer);
    for (const gesture of gestures) window.removeEventListener(gesture, wake, { capture: true });
    void context?.close();
  };
}
