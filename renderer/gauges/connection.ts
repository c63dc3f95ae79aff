import type { PortSettings } from "../../core/bridge/messages.ts";
import type { JobGauge } from "../../core/session/job.ts";

export const DEFAULT_CONNECTION: PortSettings = {
  path: "",
  baud: 9600,
  framing: "8N1",
  dtr: true,
  rts: true,
  settleMs: 0,
};

export const BAUDS: readonly number[] = [300, 600, 1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200];
export const FRAMINGS: readonly string[] = ["8N1", "8N2", "8E1", "8O1", "7E1", "7E2", "7O1", "7O2", "7N2"];

/** How a gauge is spoken to by its job; what the job leaves open takes the likeliest. */
export function connectionOf({ serial }: Pick<JobGauge, "serial">): PortSettings {
  return { ...DEFAULT_CONNECTION, ...serial };
}
