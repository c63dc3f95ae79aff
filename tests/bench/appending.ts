import { mkdtemp, open, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { SessionFile } from "../../electron/host/sessionFile.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { byTurnsWaiting, fixed } from "./measure.ts";

const JOB = { format: "borewright/job", version: 1 };
/** Records appended one at a time, each waited for, and in bursts that wait for their last. */
const RECORDS = 240;
const RUNS = 31;

function record(recording: Recording): string {
  return recording.record({ type: "line", t: recording.tMs + 20, gauge: "bore", line: "+0.04105" }).text;
}

/**
 * Records a second that are on the disk: by the session file alone, and with all that belongs to a record (the reducer,
 * the seal), beside bare writes of the same bytes, each group with its `fdatasync`.
 */
export async function appendTable() {
  const folder = await mkdtemp(join(tmpdir(), "borewright-bench-append-"));
  try {
    const rows = [];
    for (const burst of [1, 8, 60]) rows.push(await appendRow(folder, burst));
    return rows;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function appendRow(folder: string, burst: number) {
  if (parseJob(JOB).gauges.every(({ id }) => id !== "bore")) throw new Error("the job has no gauge named bore");
  const begin = () =>
    Recording.begin({ job: JOB, createdIso: "2026-01-02T03:04:05.000Z", app: "bench 0", hash: sha256 });
  const recording = begin();
  const file = await SessionFile.create(join(folder, `own-${burst}.bwsession`), recording.headerText, true);
  const bare = await open(join(folder, `bare-${burst}.txt`), "w");
  const copy = begin();
  const texts = Array.from({ length: RECORDS }, () => record(copy));
  let position = 0;

  const written = (text: (n: number) => string) => async () => {
    for (let n = 0; n < RECORDS; n += burst) {
      for (let i = 1; i < burst; i += 1) file.append(text(n + i - 1));
      await new Promise<void>((resolve) => file.append(text(n + burst - 1), resolve));
    }
  };
  const whole = written(() => record(recording));
  const alone = written((n) => texts[n] ?? "");
  const theirs = async () => {
    for (let n = 0; n < RECORDS; n += burst) {
      const bytes = Buffer.from(texts.slice(n, n + burst).join(""));
      await bare.write(bytes, 0, bytes.length, position);
      await bare.datasync();
      position += bytes.length;
    }
  };
  const [aloneMs, bareMs] = await byTurnsWaiting(alone, theirs, RUNS);
  const [wholeMs] = await byTurnsWaiting(whole, theirs, RUNS);
  await file.close();
  await bare.close();
  return {
    "records at once": burst,
    "session file, records/s": fixed((1000 * RECORDS) / aloneMs, 0),
    "bare write and fdatasync, records/s": fixed((1000 * RECORDS) / bareMs, 0),
    "share of bare": `${fixed((100 * bareMs) / aloneMs, 0)} %`,
    "with reducer and seal": `${fixed((100 * bareMs) / wholeMs, 0)} %`,
  };
}
