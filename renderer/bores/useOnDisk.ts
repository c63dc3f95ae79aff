import { useRef } from "react";
import type { HereView } from "../../core/session/view.ts";
import { useStore } from "../store/store.ts";

/**
 * Whether the record of the closed station is on disk: its outcome came (outcomes follow the disk), or nothing
 * was waiting to be written at a moment while it was closed. Once true it stays true for that station.
 */
export function useOnDisk(here: HereView | null): boolean {
  const pending = useStore((state) => state.saved.pending);
  const outcomes = useStore((state) => state.lastOutcomes);
  const known = useRef<string | null>(null);
  if (here === null || here.state !== "closed") {
    known.current = null;
    return false;
  }
  const { bore, place } = here;
  const key = `${bore} ${place.height} ${place.clock}`;
  const lastSweepMs = here.sweeps[here.sweeps.length - 1]?.tMs ?? 0;
  if (known.current === key) return true;
  const told = outcomes.some(
    ({ outcome }) =>
      outcome.type === "station" &&
      outcome.bore === bore &&
      outcome.place.height === place.height &&
      outcome.place.clock === place.clock &&
      outcome.t >= lastSweepMs,
  );
  if (pending > 0 && !told) return false;
  known.current = key;
  return true;
}
