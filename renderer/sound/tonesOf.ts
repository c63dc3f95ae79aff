import type { Limits } from "../../core/fit/finding.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { SessionView } from "../../core/session/view.ts";
import { lengthMs, type ToneName } from "./score.ts";
import { toneFor } from "./toneFor.ts";

/** A tone with its start, ms from now. */
export interface DueTone {
  readonly tone: ToneName;
  readonly inMs: number;
}

/** Silence between two tones, ms. */
const GAP_MS = 120;

/**
 * The tones of outcomes that came together, one after the other so that none covers another. The tick of a sweep is
 * left out when the sweep brought about something greater, the next bore when a return check comes first, and no tone
 * sounds twice.
 */
export function tonesOf(outcomes: readonly Outcome[], view: SessionView | null, limits: Limits | null): DueTone[] {
  const tones = outcomes.map((outcome) => toneFor(outcome, view, limits)).filter((tone) => tone !== null);
  const distinct = [...new Set(tones)];
  // Sent back to the micrometer, nobody must go on to the bore that was opened just before.
  const sentTo = distinct.includes("return")
    ? distinct.filter((tone) => tone !== "bore" && tone !== "opened")
    : distinct;
  const heard = sentTo.length > 1 ? sentTo.filter((tone) => tone !== "sweep") : sentTo;
  let inMs = 0;
  return heard.map((tone) => {
    const due = { tone, inMs };
    inMs += lengthMs(tone) + GAP_MS;
    return due;
  });
}
