/** How a gauge's port is opened while it is being taught. */
export interface SerialSetting {
  /** Bits a second. */
  readonly baud: number;
  /** Data bits, parity, stop bits, such as "8N1" or "7E2". */
  readonly framing: string;
  /** Whether the control lines are raised; many data cables draw their power from them. */
  readonly dtr: boolean;
  readonly rts: boolean;
}

/** Speed and framing in a few words. */
export function settingInWords({ baud, framing }: SerialSetting): string {
  return `${baud}, ${framing}`;
}

/** The control lines in a few words. */
export function powerInWords({ dtr, rts }: SerialSetting): string {
  if (dtr && rts) return "DTR and RTS raised";
  if (!dtr && !rts) return "DTR and RTS lowered";
  return dtr ? "DTR raised, RTS lowered" : "DTR lowered, RTS raised";
}

export const sameSetting = (a: SerialSetting, b: SerialSetting): boolean =>
  a.baud === b.baud && a.framing === b.framing && a.dtr === b.dtr && a.rts === b.rts;

/**
 * Speeds and framings that are opened in turn, the likeliest first (common practice, no source). Framings of 7 data bits
 * are not opened: what they send is told by its bit 7, whatever the speed.
 */
export const CANDIDATES: readonly Pick<SerialSetting, "baud" | "framing">[] = [
  { baud: 9600, framing: "8N1" },
  { baud: 4800, framing: "8N1" },
  { baud: 2400, framing: "8N1" },
  { baud: 1200, framing: "8N1" },
  { baud: 19_200, framing: "8N1" },
  { baud: 115_200, framing: "8N1" },
  { baud: 57_600, framing: "8N1" },
  { baud: 38_400, framing: "8N1" },
  { baud: 600, framing: "8N1" },
  { baud: 300, framing: "8N1" },
  { baud: 9600, framing: "8E1" },
  { baud: 9600, framing: "8O1" },
  { baud: 4800, framing: "8E1" },
  { baud: 4800, framing: "8O1" },
];

/** Control lines in the order they are tried while nothing comes: most cables want both raised. */
export const POWERS: readonly Pick<SerialSetting, "dtr" | "rts">[] = [
  { dtr: true, rts: true },
  { dtr: true, rts: false },
  { dtr: false, rts: true },
  { dtr: false, rts: false },
];
