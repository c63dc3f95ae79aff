import type { WalkKey } from "../store/settings.ts";

const NAMES: Readonly<Record<string, string>> = {
  ArrowLeft: "←",
  ArrowRight: "→",
  ArrowUp: "↑",
  ArrowDown: "↓",
  Space: "Space",
  Backspace: "Backspace",
  PageUp: "Page up",
  PageDown: "Page down",
  Escape: "Esc",
};

/** A key as it is printed on the screen, from its `KeyboardEvent.code`: "KeyH" → "H". */
export function keyName(code: string): string {
  const known = NAMES[code];
  if (known !== undefined) return known;
  const plain = /^(?:Key|Digit)(.)$/.exec(code);
  if (plain?.[1] !== undefined) return plain[1];
  const pad = /^Numpad(.+)$/.exec(code);
  if (pad?.[1] !== undefined) return `Pad ${pad[1]}`;
  return code.replace(/([a-z])([A-Z])/g, "$1 $2");
}

/** Keys that cannot be given to a control: a cable types them, or the page needs them to be reached by keyboard. */
const NOT_FREE = /^(Digit\d|Numpad.*|Enter|Tab|Period|Comma|Minus|Equal|Shift.*|Control.*|Alt.*|Meta.*)$/;

/** Whether a key may be set for a control of the walk. */
export function isFree(code: string): boolean {
  return code !== "" && !NOT_FREE.test(code);
}

/** The keys after `control` was given `code`; a control that had it takes the one that became free. */
export function withKey(
  keys: Readonly<Record<WalkKey, string>>,
  control: WalkKey,
  code: string,
): Record<WalkKey, string> {
  const next = { ...keys };
  for (const other of Object.keys(next) as WalkKey[]) if (next[other] === code) next[other] = keys[control];
  next[control] = code;
  return next;
}
