import type { TrafficEntry } from "../../core/bridge/messages.ts";

const MARKS = { in: "<", out: ">", port: "#" } as const;

/** Rows as plain text with tabs between, for a file or the clipboard: `<` from the gauge, `>` to it, `#` about the port. */
export function trafficText(entries: readonly TrafficEntry[]): string {
  const rows = entries.map(({ at, path, direction, hex, text, understood, why }) => {
    const plain = text.replace(/[\r\n\t]+/g, " ");
    return [at, path, MARKS[direction], hex, plain, understood ?? (why === null ? "" : `not understood: ${why}`)].join(
      "\t",
    );
  });
  return `${["time (UTC)\tport\tdirection\tbytes\ttext\tunderstood as", ...rows].join("\n")}\n`;
}
