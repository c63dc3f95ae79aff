import type { PortSettings } from "../../core/bridge/messages.ts";
import type { SettingsStorage } from "../store/settings.ts";

export const DEFAULT_CONNECTION: PortSettings = { path: "", baud: 9600, framing: "8N1", dtr: true, rts: true };

/** Speeds and framings that gauges use, the likeliest first (common practice, no source). */
export const LIKELY: readonly { readonly baud: number; readonly framing: string }[] = [
  { baud: 9600, framing: "8N1" },
  { baud: 4800, framing: "7E2" },
  { baud: 9600, framing: "7E1" },
  { baud: 4800, framing: "8N1" },
  { baud: 2400, framing: "8N1" },
  { baud: 1200, framing: "7E2" },
  { baud: 19_200, framing: "8N1" },
  { baud: 57_600, framing: "8N1" },
  { baud: 115_200, framing: "8N1" },
];

export const BAUDS: readonly number[] = [1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200];
export const FRAMINGS: readonly string[] = ["8N1", "8N2", "8E1", "8O1", "7E1", "7E2", "7O1", "7N2"];

/** The speed and framing to try after these. */
export function nextLikely(settings: PortSettings): PortSettings {
  const at = LIKELY.findIndex((one) => one.baud === settings.baud && one.framing === settings.framing);
  return { ...settings, ...(LIKELY[(at + 1) % LIKELY.length] ?? LIKELY[0]) };
}

const KEY = "borewright.connections";

/** How each gauge (by id) was connected last; empty if nothing sensible is kept. */
export function readConnections(storage: SettingsStorage): Readonly<Record<string, PortSettings>> {
  let kept: unknown;
  try {
    kept = JSON.parse(storage.getItem(KEY) ?? "{}");
  } catch {
    return {};
  }
  if (typeof kept !== "object" || kept === null) return {};
  const sound: Record<string, PortSettings> = {};
  for (const [id, one] of Object.entries(kept as Record<string, Partial<PortSettings> | null>)) {
    if (typeof one !== "object" || one === null) continue;
    if (typeof one.path !== "string" || typeof one.baud !== "number" || typeof one.framing !== "string") continue;
    sound[id] = {
      path: one.path,
      baud: one.baud,
      framing: one.framing,
      dtr: one.dtr ?? true,
      rts: one.rts ?? true,
    };
  }
  return sound;
}

/** Keeps how a gauge was connected, for next time. */
export function keepConnection(storage: SettingsStorage, gauge: string, settings: PortSettings): void {
  try {
    storage.setItem(KEY, JSON.stringify({ ...readConnections(storage), [gauge]: settings }));
  } catch {
    // It is chosen again next time.
  }
}
