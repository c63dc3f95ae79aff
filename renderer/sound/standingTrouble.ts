import type { Notice } from "../../core/session/notice.ts";
import type { SessionView } from "../../core/session/view.ts";
import { isTrouble } from "./toneFor.ts";

/** The notices that stop the work and still stand, newest last. */
export function standingTroubles(view: SessionView | null): Notice[] {
  return (view?.notices ?? []).filter((notice) => notice.curedMs === undefined && isTrouble(notice.code));
}

/**
 * Whether the trouble tone sounds again: records that are not saved, or a notice that stops the work. A hold is an
 * answer to trouble, so it silences notices, never what is not saved.
 */
export function troubleSounds(view: SessionView | null, notSaved: string | null): boolean {
  if (notSaved !== null) return true;
  return view !== null && !view.held && standingTroubles(view).length > 0;
}
