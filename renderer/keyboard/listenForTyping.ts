import { jobOf } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { LostNumber } from "./lostNumber.ts";
import { TypedLines, WAIT_MS } from "./typedLines.ts";
import { gaugeOfPlace, typingGauge } from "./typingGauge.ts";

/**
 * The one listener for keyboard-type cables: at Lifters, Zero and Bores whatever a cable types goes to its gauge,
 * whatever has the focus, and never into a field or onto a button. Returns the function that stops it.
 */
export function listenForTyping(target: Window): () => void {
  const lines = new TypedLines();
  const lost = new LostNumber();
  let timer: number | undefined;

  const onKeyDown = (event: KeyboardEvent) => {
    const gauge = gaugeNow();
    if (typesByHand()) {
      putBack(lines.release());
      beginEntry(event, lost);
      return;
    }
    if (gauge === null || event.isComposing) {
      putBack(lines.release());
      return;
    }
    const heard = lines.hear({
      key: event.key,
      tMs: event.timeStamp,
      modified: event.ctrlKey || event.altKey || event.metaKey,
    });
    target.clearTimeout(timer);
    if (heard.do === "line") {
      event.preventDefault();
      event.stopImmediatePropagation();
      takeBack(heard.takeBack);
      if (heard.line !== null) void useStore.getState().actions.call("session.type", { gauge, line: heard.line });
      return;
    }
    putBack(heard.replay);
    if (heard.do === "pass") return;
    event.preventDefault();
    event.stopImmediatePropagation();
    timer = target.setTimeout(() => putBack(lines.lapse(Number.POSITIVE_INFINITY)), WAIT_MS);
  };

  target.addEventListener("keydown", onKeyDown, { capture: true });
  return () => {
    target.clearTimeout(timer);
    target.removeEventListener("keydown", onKeyDown, { capture: true });
  };
}

function gaugeNow(): string | null {
  const { session, place, settings } = useStore.getState();
  if (session === null || session.readOnly) return null;
  return typingGauge(jobOf(session), place, settings.typingGauge);
}

/** Whether the gauge worked with here has no data output, so that what is typed is a person's. */
function typesByHand(): boolean {
  const { session, place } = useStore.getState();
  return session !== null && !session.readOnly && gaugeOfPlace(jobOf(session), place)?.source === "typed";
}

/** A digit, sign or point typed while no field has the focus begins the entry line: it then takes the character itself. */
function beginEntry(event: KeyboardEvent, lost: LostNumber): void {
  if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
  const line = document.querySelector<HTMLInputElement>("input[data-entry-line]");
  const target = event.target instanceof HTMLElement ? event.target : null;
  if (target !== line && target?.matches("input, select, textarea, [contenteditable]") === true) return;
  const heard = lost.hear(event.key, event.timeStamp, line !== null);
  if (heard === "lost") event.preventDefault();
  else if (heard === "begins" && target !== line) line?.focus();
}

/** Types a person's characters where they were meant to go; nowhere if no field has the focus. */
function putBack(text: string): void {
  const field = focusedField();
  if (text === "" || field === null) return;
  field.setRangeText(text, field.selectionStart ?? field.value.length, field.selectionEnd ?? field.value.length, "end");
  field.dispatchEvent(new InputEvent("input", { bubbles: true, data: text, inputType: "insertText" }));
}

/** Removes what a faltering cable left before the caret. */
function takeBack(text: string): void {
  const field = focusedField();
  if (text === "" || field === null) return;
  const end = field.selectionStart ?? field.value.length;
  if (!field.value.slice(0, end).endsWith(text)) return;
  field.setRangeText("", end - text.length, end, "end");
  field.dispatchEvent(new InputEvent("input", { bubbles: true, inputType: "deleteContentBackward" }));
}

function focusedField(): HTMLInputElement | HTMLTextAreaElement | null {
  const field = document.activeElement;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement)) return null;
  // A box or a radio has the focus but holds no text.
  if (field.disabled || field.readOnly || field.selectionStart === null) return null;
  return field;
}
