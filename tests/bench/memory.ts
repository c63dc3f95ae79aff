import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { Recording } from "../../core/session/recording.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { sixtyThousand } from "./longSession.ts";
import { fixed } from "./measure.ts";

setFlagsFromString("--expose-gc");
const collectGarbage = runInNewContext("gc") as () => void;

function heapBytes(): number {
  collectGarbage();
  collectGarbage();
  return process.memoryUsage().heapUsed;
}

/** What the reducer holds as a long walk goes on, beside the text it was read from; then an hour of a gauge that lies still. */
export function memoryTable() {
  const { text } = sixtyThousand();
  const { inputs, recording } = Recording.read(text, { hash: sha256 });
  const before = heapBytes();
  const run = new SessionRun(recording.job);
  const rows: object[] = [];
  const held = (what: string, events: number) => {
    const bytes = heapBytes() - before;
    const read = (text.length * Math.min(events, inputs.length)) / inputs.length;
    rows.push({ what, events, "KiB held": fixed(bytes / 1024, 0), "share of the text": fixed(bytes / read, 3) });
  };
  for (const [index, input] of inputs.entries()) {
    run.apply(input);
    if ((index + 1) % Math.ceil(inputs.length / 4) === 0) held("walk", index + 1);
  }
  held("whole walk", inputs.length);
  const last = run.tMs;
  const idle = 3600 * 50;
  for (let n = 1; n <= idle; n += 1) run.apply({ type: "line", t: last + 20 * n, gauge: "bore", line: "+0.04105" });
  held("an hour more, lying still at 50/s", inputs.length + idle);
  return rows;
}
