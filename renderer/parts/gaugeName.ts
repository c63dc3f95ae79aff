import type { GaugeRole } from "../../core/gauge/profile.ts";
import type { LinkState } from "../../core/session/event.ts";

/** What a gauge is called on the screen. */
export function gaugeName(gauge: { readonly role: GaugeRole }): string {
  return gauge.role === "bore" ? "Bore gauge" : "Micrometer";
}

/** Link states in words, with a mark that tells them apart without colour. */
export const LINK_IN_WORDS: Readonly<Record<LinkState, { readonly mark: string; readonly text: string }>> = {
  open: { mark: "●", text: "connected" },
  lost: { mark: "▲", text: "cable lost" },
  closed: { mark: "○", text: "not connected" },
};
