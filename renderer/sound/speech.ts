import { spokenBore } from "../../core/block/spokenBore.ts";
import { formatTenths } from "../../core/length/formatLength.ts";
import type { Outcome } from "../../core/session/outcome.ts";

/** What is said of an outcome, or null: "Cylinder 5, intake, upper, 16.0 tenths." Stations only, once each. */
export function spokenOutcome(outcome: Outcome): string | null {
  if (outcome.type !== "station" || outcome.again || outcome.clearanceNm === null) return null;
  const tenths = formatTenths(outcome.clearanceNm, 1).replace("-", "minus ");
  return `${spokenBore(outcome.bore)}, ${outcome.place.height}, ${tenths} tenths.`;
}

/** Says it with a voice of this machine, if it has one; a voice from elsewhere is never used. */
export function speakOutcome(outcome: Outcome): void {
  const words = spokenOutcome(outcome);
  if (words === null || !("speechSynthesis" in window)) return;
  const voice = window.speechSynthesis.getVoices().find((one) => one.localService && one.lang.startsWith("en"));
  if (voice === undefined) return;
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.voice = voice;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(utterance);
}
