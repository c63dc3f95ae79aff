import { spokenBore } from "../../core/block/spokenBore.ts";
import { formatLength, formatTenths } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { ShownUnit } from "../store/settings.ts";

/** A bore as one says it across a bench: "5I" → "5 intake". */
const saidBore = (name: string) => spokenBore(name).replace("Cylinder ", "").replace(",", "");

/** A figure without the zeros that only lengthen it: "16.0" → "16". */
const saidFigure = (text: string) => text.replace(/\.?0+$/, "").replace("-", "minus ");

function saidLength(length: Nm, unit: ShownUnit): string {
  if (unit === "in" || unit === "tenths") return `${saidFigure(formatTenths(length, 1))} tenths`;
  return `${saidFigure(formatLength(length, "um", 1))} micrometres`;
}

/** What is said of an outcome, or null: "5 intake, upper, 16 tenths." Stations once each, and a return check. */
export function spokenOutcome(outcome: Outcome, unit: ShownUnit): string | null {
  if (outcome.type === "step" && outcome.step === "return") return "Return check.";
  if (outcome.type !== "station" || outcome.again || outcome.clearanceNm === null) return null;
  const { height, clock } = outcome.place;
  const across = clock === "cross" ? ", across" : "";
  return `${saidBore(outcome.bore)}, ${height}${across}, ${saidLength(outcome.clearanceNm, unit)}.`;
}

/** A voice of this machine that speaks English; null where there is none. A voice from elsewhere is never used. */
export function localVoice(): SpeechSynthesisVoice | null {
  if (!("speechSynthesis" in window)) return null;
  return window.speechSynthesis.getVoices().find((one) => one.localService && one.lang.startsWith("en")) ?? null;
}

/** Calls back whenever the machine's voices become known, which some tell only after a while; the answer stops it. */
export function watchVoices(onChange: () => void): () => void {
  if (!("speechSynthesis" in window)) return () => undefined;
  window.speechSynthesis.addEventListener("voiceschanged", onChange);
  return () => window.speechSynthesis.removeEventListener("voiceschanged", onChange);
}

/** Says words with a voice of this machine, in place of what it is saying; false where it has none. */
export function say(words: string): boolean {
  const voice = localVoice();
  if (voice === null) return false;
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.voice = voice;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(utterance);
  return true;
}

/** Says what outcomes that came together have to say, one after the other, where there is a voice. */
export function speakOutcomes(outcomes: readonly Outcome[], unit: ShownUnit): void {
  const sentences = outcomes.map((outcome) => spokenOutcome(outcome, unit)).filter((words) => words !== null);
  if (sentences.length > 0) say(sentences.join(" "));
}
