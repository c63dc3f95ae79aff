import { gaugeOfPlace } from "../keyboard/typingGauge.ts";
import { takesTyping } from "../store/place.ts";
import { jobOf } from "../store/sessionJob.ts";
import type { WalkKey } from "../store/settings.ts";
import { useStore } from "../store/store.ts";

/** The controls of the walk: what stands on their buttons, and what they do. */
export const CONTROLS: readonly { readonly control: WalkKey; readonly word: string; readonly does: string }[] = [
  { control: "take", word: "Take", does: "close the sweep now, or ask the gauge" },
  { control: "strike", word: "Strike", does: "take back the last sweep or station" },
  { control: "back", word: "Back", does: "one station back" },
  { control: "hold", word: "Hold", does: "readings are recorded and do not count" },
];

/** Does what a control of the walk is for; false where nobody works at a bench. */
export function workControl(control: WalkKey): boolean {
  const { session, info, place, view, actions } = useStore.getState();
  const mayAct = session !== null && !session.readOnly && (info?.mayAct ?? true);
  if (!mayAct || !takesTyping(place)) return false;
  if (control === "take" && gaugeOfPlace(jobOf(session), place)?.source === "typed") {
    // Nothing can be asked of a dial: its reading is typed.
    document.querySelector<HTMLElement>("[data-entry-line]")?.focus();
    return true;
  }
  void actions.act(control === "hold" ? { type: "hold", on: !(view?.held ?? false) } : { type: control });
  return true;
}
