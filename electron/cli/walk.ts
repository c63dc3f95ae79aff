import { readFile, rm, stat } from "node:fs/promises";
import { resultOf } from "../../core/report/result.ts";
import type { Job } from "../../core/session/job.ts";
import { Recording, SessionError } from "../../core/session/recording.ts";
import { NotSavedError, type SavedState } from "../host/appendQueue.ts";
import { appName } from "../host/appName.ts";
import { LockedError } from "../host/lockFile.ts";
import { portTrouble } from "../host/portTrouble.ts";
import { FileExistsError, writeWhole } from "../host/safeFiles.ts";
import { SessionClock } from "../host/sessionClock.ts";
import { SessionFile } from "../host/sessionFile.ts";
import { sha256 } from "../host/sha256.ts";
import { recordOf, sentenceOf, tableOf } from "./account.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { parsePort } from "./portOption.ts";
import { fileTrouble, readJobFile } from "./readFiles.ts";
import { readFeed, walkFeed } from "./walkFeed.ts";
import { readGuided, walkPorts } from "./walkPorts.ts";
import type { Work } from "./work.ts";

export const WALK_HELP = `borewright walk --job FILE --session FILE (--feed FILE | --port ID=PATH[,BAUD[,8N1]] ...) [--json]

A walk without a window.
  --job         the job file
  --session     the session file to write; must not be there yet
  --resume      go on with a session that is there
  --force       write the session anew over one that is there
  --feed        take what a bench saw from a feed file ("-" reads standard input)
  --port        listen to a gauge of the job on a serial port; once for each gauge
  --lifter      with --port: the lifter to set the micrometer to for the zero (default the walk's first)
  --step-check  with --port: after the zero, open the micrometer by this, such as "0.0010 in"
  --patience    with --port: seconds to wait for a lost gauge to come back (default 60)
  --json        one NDJSON object per kept sweep, station, zero, notice, then the result
With --port a line typed is what the operator does: take, strike, back, hold, go on,
go 5I [upper axial], step lifters|zero [LIFTER]|step-check [0.0010 in]|bores|return,
temperature BLOCK LIFTER (in degrees Celsius), note TEXT.
Exit status: 0 the walk is complete, 3 the input ended before that.
`;

/** `borewright walk`. */
export async function walk(args: readonly string[], io: Io): Promise<number> {
  const { values } = readOptions(
    "walk",
    args,
    {
      job: "text",
      session: "text",
      feed: "text",
      port: "texts",
      lifter: "text",
      "step-check": "text",
      patience: "text",
      json: "flag",
      force: "flag",
      resume: "flag",
    },
    0,
  );
  const jobPath = need("walk", "--job FILE", values.job);
  const sessionPath = need("walk", "--session FILE", values.session);
  if ((values.feed === undefined) === (values.port.length === 0)) {
    throw new WrongUse("walk: expected either --feed FILE or --port ID=PATH; see borewright walk --help");
  }
  if (values.force && values.resume) throw new WrongUse("walk: --force and --resume do not go together");
  const { json, job } = await readJobFile(jobPath);
  const ports = values.port.map((given) => parsePort(given, job));
  const twice = ports.find((port, index) => ports.findIndex((other) => other.gauge === port.gauge) !== index);
  if (twice !== undefined) throw new WrongUse(`walk: --port ${twice.gauge} is there twice; expected once a gauge`);
  const guided = readGuided(values, job);
  const feed = values.feed === undefined ? null : await readFeed(values.feed, job, io);
  for (const { settings } of ports) await needPort(settings.path);
  const unit = job.gauges.find((gauge) => gauge.role === "bore")?.unit ?? "in";
  const announce: Work["announce"] = (outcome) => {
    if (values.json) {
      const record = recordOf(outcome);
      if (record !== null) io.out(`${JSON.stringify(record)}\n`);
      return;
    }
    const sentence = sentenceOf(outcome, unit);
    if (sentence !== null) io.out(`${sentence}\n`);
  };
  // What --force overwrites comes back if the walk can not even begin.
  const before = values.force ? await readFile(sessionPath).catch(() => null) : null;
  const opened = values.resume ? await resume(sessionPath, job, io) : await begin(sessionPath, json, values.force, io);
  const guide: Work["guide"] = (text, t) =>
    io.out(values.json ? `${JSON.stringify({ type: "guide", t, text })}\n` : `${text}\n`);
  const work: Work = { ...opened, announce, guide };
  try {
    if (feed === null) await walkPorts(work, ports, guided, io);
    else await walkFeed(work, feed, io);
    await work.file.flush();
    await work.file.close();
  } catch (error) {
    await work.file.close().catch(() => {});
    // A port that would not open: where nothing was heard, there is nothing to keep.
    if (error instanceof WrongUse && !values.resume && !heardAnything(work)) {
      if (before === null) await rm(sessionPath, { force: true });
      else await writeWhole(sessionPath, before, true);
    }
    if (error instanceof NotSavedError) {
      throw new Error(`The last records could not be saved (${error.why}) and are lost; what was announced is safe.`);
    }
    throw error;
  }
  const result = resultOf(work.recording, "intact");
  io.out(values.json ? `${JSON.stringify(result)}\n` : tableOf(result, unit));
  return result.complete ? EXIT.done : EXIT.incomplete;
}

/** Whether any gauge sent a line, understood or not. */
const heardAnything = ({ recording }: Work): boolean =>
  recording.view().gauges.some(({ lastLine }) => lastLine !== null);

// Looked at before the session file is made or overwritten; opening says the rest.
async function needPort(path: string): Promise<void> {
  if (process.platform === "win32") return;
  await stat(path).catch((error: unknown) => {
    throw new WrongUse(`walk: --port: ${portTrouble(path, error).message}`);
  });
}

type Opened = Omit<Work, "announce" | "guide">;

async function begin(path: string, json: unknown, force: boolean, io: Io): Promise<Opened> {
  const recording = Recording.begin({ job: json, createdIso: new Date().toISOString(), app: appName, hash: sha256 });
  const file = await opening(path, () => SessionFile.create(path, recording.headerText, force, sayTrouble(io)));
  return { job: recording.job, recording, file, clock: new SessionClock(0) };
}

async function resume(path: string, job: Job, io: Io): Promise<Opened> {
  const { read, file, setAside, readOnlyWhy } = await opening(path, () => SessionFile.open(path, sayTrouble(io)));
  const { recording, header } = read;
  if (file === null) throw new WrongUse(`session ${path}: ${readOnlyWhy}; expected one that can be gone on with`);
  if (JSON.stringify(recording.job) !== JSON.stringify(job)) {
    await file.close();
    throw new WrongUse(`session ${path}:1: it was begun with another job; expected the job of --job`);
  }
  const clock = SessionClock.resume(recording.tMs, header.created, Date.now());
  const write = (input: Parameters<Recording["record"]>[0]) => file.append(recording.record(input).text);
  if (setAside !== null) {
    io.err(`a torn record of ${setAside.bytes} bytes was set aside in ${setAside.path}\n`);
    write({ type: "torn", t: clock.nowMs(), bytes: setAside.bytes });
  }
  write({ type: "resumed", t: clock.nowMs(), app: appName });
  return { job: recording.job, recording, file, clock };
}

function sayTrouble(io: Io) {
  let said: string | null = null;
  return {
    onState: ({ trouble, cured }: SavedState) => {
      if (trouble !== null && trouble !== said) io.err(`${trouble}\n`);
      if (trouble === null && said !== null && cured !== undefined) io.err(`${cured}\n`);
      said = trouble;
    },
  };
}

async function opening<T>(path: string, open: () => Promise<T>): Promise<T> {
  try {
    return await open();
  } catch (error) {
    if (error instanceof FileExistsError) {
      throw new WrongUse(
        `session ${path}: it is already there; expected a new name, --resume to go on with it, or --force to overwrite`,
      );
    }
    if (error instanceof LockedError) throw new WrongUse(`session ${path}: ${error.message}`);
    if (error instanceof SessionError) throw new WrongUse(`session ${path}:${error.line}: ${error.message}`);
    if ((error as NodeJS.ErrnoException).code !== undefined) {
      throw new WrongUse(`session ${path}: ${fileTrouble(error)}; expected a file that can be written`);
    }
    throw error;
  }
}
