import type { Outcome } from "../../core/session/outcome.ts";
import { jobOf } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { wakeAudio } from "./audio.ts";
import { lightUp } from "./light.ts";
import { lengthMs, type ToneName, TROUBLE_EVERY_MS } from "./score.ts";
import { soundTone } from "./soundTone.ts";
import { speakOutcomes } from "./speech.ts";
import { troubleSounds } from "./standingTrouble.ts";
import { tonesOf } from "./tonesOf.ts";

/** Outcomes of one event come one after the other; those within this time are heard as one, ms. */
const TOGETHER_MS = 20;
/** How far the sound may lag behind, ms. */
const LAG_MS = 1500;

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
  let busyUntil = 0;
  let seen = useStore.getState().outcomeCount;
  const timers = new Set<ReturnType<typeof setTimeout>>();

  // A page may not sound before someone has touched it; every gesture until then is an opportunity.
  const gestures = ["pointerdown", "keydown", "touchend"] as const;
  for (const gesture of gestures) window.addEventListener(gesture, wakeAudio, { capture: true, passive: true });

  const sound = (tone: ToneName, inMs: number) => {
    const timer = setTimeout(() => {
      timers.delete(timer);
      lightUp(tone);
    }, inMs);
    timers.add(timer);
    soundTone(tone, inMs);
  };

  let waiting: Outcome[] = [];
  const play = () => {
    const { view, session, settings } = useStore.getState();
    const fresh = waiting;
    waiting = [];
    const limits = session === null ? null : (jobOf(session)?.limits ?? null);
    const now = performance.now();
    // A tone that is still sounding is let end, unless so much has come that the sound would lag behind the hands.
    const wait = busyUntil - now > LAG_MS ? 0 : Math.max(0, busyUntil - now);
    for (const { tone, inMs } of tonesOf(fresh, view, limits)) {
      sound(tone, wait + inMs);
      busyUntil = now + wait + inMs + lengthMs(tone);
    }
    if (settings.speech) speakOutcomes(fresh, settings.unit);
  };

  const unsubscribe = useStore.subscribe((state, before) => {
    // A hold has no outcome of its own; the picture that shows it is on disk.
    if (state.view !== null && before.view !== null && state.session?.id === before.session?.id) {
      if (state.view.held !== before.view.held) sound("hold", 0);
    }
    if (state.outcomeCount === seen) return;
    const fresh = state.lastOutcomes.filter(({ count }) => count > seen);
    seen = state.outcomeCount;
    if (waiting.length === 0) {
      const timer = setTimeout(() => {
        timers.delete(timer);
        play();
      }, TOGETHER_MS);
      timers.add(timer);
    }
    waiting.push(...fresh.map(({ outcome }) => outcome));
  });

  const again = setInterval(() => {
    const { view, saved } = useStore.getState();
    if (troubleSounds(view, saved.trouble)) sound("trouble", 0);
  }, TROUBLE_EVERY_MS);

  return () => {
    unsubscribe();
    clearInterval(again);
    for (const timer of timers) clearTimeout(timer);
    for (const gesture of gestures) window.removeEventListener(gesture, wakeAudio, { capture: true });
  };
}
