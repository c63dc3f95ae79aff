import fc from "fast-check";
import { PARCEL_FILES, type ParcelFileName } from "../../core/report/parcelSchema.ts";
import { resultOf, resultSchema } from "../../core/report/result.ts";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import { studyReport, studyResultSchema } from "../../core/report/studyReport.ts";
import type { SessionInput } from "../../core/session/event.ts";
import { isInputType } from "../../core/session/eventSchema.ts";
import { FeedError, parseFeedLine } from "../../core/session/feed.ts";
import { JobError } from "../../core/session/jobError.ts";
import { jobFileWithDefaults, parseJob } from "../../core/session/jobFile.ts";
import { type ReadSession, Recording, SessionError } from "../../core/session/recording.ts";
import { canonical, sealRecord } from "../../core/session/seal.ts";
import { sha256Of } from "../../electron/host/parcel/content.ts";
import { findingsOf } from "../../electron/host/parcel/findings.ts";
import { makeParcel } from "../../electron/host/parcel/makeParcel.ts";
import { openParcel } from "../../electron/host/parcel/openParcel.ts";
import { reportFile } from "../../electron/host/parcel/reportFile.ts";
import { filesOfZip } from "../../electron/host/parcel/zipLayout.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { APP, parcelOf } from "../host/parcelOf.ts";
import { rawZip } from "../host/rawZip.ts";
import { testKey } from "../host/testKey.ts";
import { corpus } from "./corpus.ts";
import { type Edit, editBytes, editJson, editLines, someEdits } from "./mutate.ts";

/** One kind of file: how a mutated one is made from numbers, and what reading it must be like. */
export interface Trial<F = unknown> {
  readonly name: string;
  /** Of all files that a long run makes, 0 … 1: more of what is read fast. */
  readonly share: number;
  readonly make: (mutation: Mutation) => F;
  /** Reads the mutated file; says what came of it, and throws where the reader did what it must not. */
  readonly read: (file: F, mutation: Mutation) => Promise<string>;
}

/** Thrown where a reader broke its promise. */
class Broken extends Error {
  override readonly name = "Broken";
}

function promise(holds: boolean, what: string): void {
  if (!holds) throw new Broken(what);
}

const utf8 = new TextEncoder();
const text = (bytes: Uint8Array) => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);

const LONGEST_MESSAGE = 1000;

/** A message for one line of a terminal or a notice: short, and nothing in it that steers either. */
function clear(message: string): void {
  promise(message.length > 0 && message.length <= LONGEST_MESSAGE, `a message of ${message.length} characters`);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what it looks for
  promise(!/[\u0000-\u001f\u007f]/.test(message), `control characters in ${JSON.stringify(message)}`);
  promise(!/undefined|\[object/.test(message.replace(/"[^"]*"/g, "")), `no words: ${message}`);
}

/** Runs `work`; an error of one of `own` is told by its name, any other is not the reader's. */
function orOwn<T>(work: () => T, ...own: readonly (new (...args: never[]) => Error)[]): T | string {
  try {
    return work();
  } catch (error) {
    if (!own.some((kind) => error instanceof kind)) throw error;
    clear((error as Error).message);
    return `refused: ${(error as Error).name}`;
  }
}

function pickOf<T>(list: readonly T[], number: number): T {
  return list[number % list.length] as T;
}

export const mutations: fc.Arbitrary<Mutation> = fc.record({
  which: fc.nat(1000),
  way: fc.nat(1000),
  edits: someEdits,
});
/** Which sound file is changed, in what manner, and how. */
export interface Mutation {
  readonly which: number;
  readonly way: number;
  readonly edits: readonly Edit[];
}

const edited = <T>(start: T, edits: readonly Edit[], change: (now: T, edit: Edit) => T): T =>
  edits.reduce(change, start);

// ---- sessions -------------------------------------------------------------------------------------------------

const sessions = corpus.session();
const originals = sessions.map((file) => readSessionBytes(utf8.encode(file)));
const lists = originals.map(({ inputs }) => inputs.map((input) => canonical(input)));

/** The seals made anew over whatever the lines say now; lines that are no record stay. */
function resealed(lines: readonly string[], numbered: boolean): string[] {
  let seal = "";
  let n = -1;
  return lines.map((line) => {
    n += 1;
    try {
      const { seal: _, ...record } = JSON.parse(line) as Record<string, unknown>;
      const made = sealRecord(seal, numbered && n > 0 ? { ...record, n } : record, sha256);
      seal = made.seal;
      return made.line;
    } catch {
      return line;
    }
  });
}

/** Whether these events are the beginning of what one of the sound sessions holds. */
function startsAsOriginal(inputs: readonly SessionInput[]): boolean {
  const texts = inputs.map((input) => canonical(input));
  return lists.some((list) => texts.every((each, index) => each === list[index]));
}

/** Everything that the program computes from a session that it opened, each held against its own schema. */
async function judgeSession(read: ReadSession, way: number): Promise<void> {
  for (const { why } of read.broken) clear(why);
  for (const difference of read.differences) clear(difference);
  if (way % 3 === 1) return;
  const result: unknown = JSON.parse(JSON.stringify(resultOf(read.recording, "intact")));
  const parsed = resultSchema.safeParse(result);
  promise(parsed.success, `a result against its schema: ${parsed.error?.issues[0]?.path.join(".")}`);
  read.recording.view();
  if (way % 32 === 0) reportFile(read, await findingsOf(read));
  if (read.broken.length === 0) read.recording.record({ type: "note", t: read.recording.tMs, text: "seen" });
}

const resealsSession = (way: number) => way % 3 !== 0 && way % 2 === 0;

const session: Trial<Uint8Array> = {
  name: "session",
  share: 0.25,
  make({ which, way, edits }) {
    const file = pickOf(sessions, which);
    const other = pickOf(sessions, which + 1 + (way % 2));
    if (way % 3 === 0)
      return edited(utf8.encode(file), edits, (now: Uint8Array, edit) => editBytes(now, edit, utf8.encode(other)));
    const changed = edited(file.split("\n"), edits, (lines: string[], edit) =>
      editLines(lines, edit, other.split("\n")),
    );
    return utf8.encode((resealsSession(way) ? resealed(changed, way % 4 === 0) : changed).join("\n"));
  },
  async read(bytes, { way }) {
    const read = orOwn(() => readSessionBytes(bytes), SessionError);
    if (typeof read === "string") return read;
    await judgeSession(read, way);
    if (!resealsSession(way)) checkUntouched(read, text(bytes));
    if (read.broken.length > 0) return "broken, told with its line";
    return read.torn === null ? "intact" : "torn";
  },
};

/** Without a new seal nothing that was changed passes for intact, and what stands before the first broken line is as it was. */
function checkUntouched(read: ReadSession, file: string): void {
  const [first] = read.broken;
  if (first === undefined) {
    promise(startsAsOriginal(read.inputs), "a changed session passes for intact");
    promise(
      originals.some(({ header }) => canonical(header) === canonical(read.header)),
      "a changed header passes for intact",
    );
    promise(read.differences.length === 0, `differences without a broken seal: ${read.differences[0]}`);
    return;
  }
  const lines = file.split("\n");
  promise(first.line >= 1 && first.line <= lines.length, `a broken seal at line ${first.line} of ${lines.length}`);
  const before = lines.slice(1, first.line - 1).filter((line) => {
    const record = JSON.parse(line) as Record<string, unknown>;
    return isInputType(record.type);
  }).length;
  promise(startsAsOriginal(read.inputs.slice(0, before)), `another event before the first broken line ${first.line}`);
}

// ---- jobs -----------------------------------------------------------------------------------------------------

const jobs = corpus.job();

const jobFiles: Trial<string> = {
  name: "job",
  share: 0.25,
  make: ({ which, way, edits }) => mutatedJson(pickOf(jobs, which), pickOf(jobs, which + 1), way, edits),
  async read(file, { way }) {
    const json = jsonOf(file);
    if (json === NO_JSON) return "no JSON";
    const job = orOwn(() => parseJob(json.value), JobError);
    if (typeof job === "string") return job;
    const written = jobFileWithDefaults(json.value);
    promise(same(parseJob(written), job), "a job written with its defaults is another job");
    promise(same(parseJob(JSON.parse(JSON.stringify(written))), job), "a job on file is another job");
    const recording = Recording.begin({
      job: json.value,
      createdIso: "2026-01-02T03:04:05.000Z",
      app: "test 0",
      hash: sha256,
    });
    walkShortly(recording);
    await judgeSession(
      { recording, differences: [], broken: [], torn: null, inputs: [], header: JSON.parse(recording.headerText) },
      way,
    );
    return "read";
  },
};

const same = (one: unknown, other: unknown) => canonical({ one }) === canonical({ one: other });

/** A zero and the first station in the ways that gauges may send, to see that the job can be worked with. */
function walkShortly(recording: Recording): void {
  const { gauges, walk } = recording.job;
  const bore = gauges.find(({ role }) => role === "bore")?.id ?? "";
  let t = 0;
  const feed = (input: Record<string, unknown>) => {
    t += 400;
    recording.record({ t, ...input } as unknown as SessionInput);
  };
  feed({ type: "step", step: "lifters" });
  for (const gauge of gauges) feed({ type: "line", gauge: gauge.id, line: "+0.84205" });
  feed({ type: "step", step: "zero", lifter: walk[0] });
  for (const value of ["+0.00000", "+0.00005", "+0.00000"]) feed({ type: "line", gauge: bore, line: value });
  feed({ type: "step", step: "bores", blockC: 20, lifterC: 21 });
  for (let press = 0; press < 8; press += 1) feed({ type: "line", gauge: bore, line: "+0.00150" });
  feed({ type: "step", step: "return" });
  for (const value of ["+0.00000", "+0.00005", "+0.00000"]) feed({ type: "line", gauge: bore, line: value });
}

const NO_JSON = Symbol("no JSON");

function jsonOf(file: string): { readonly value: unknown } | typeof NO_JSON {
  try {
    return { value: JSON.parse(file) };
  } catch {
    return NO_JSON;
  }
}

function mutatedJson(file: string, other: string, way: number, edits: readonly Edit[]): string {
  if (way % 6 === 0) {
    return text(edited(utf8.encode(file), edits, (now: Uint8Array, edit) => editBytes(now, edit, utf8.encode(other))));
  }
  return edited(file, edits, editJson);
}

// ---- feeds ----------------------------------------------------------------------------------------------------

const feeds = corpus.feed();
/** More silences in a row than any walk has. */
const MOST_SILENCES = 16;

const feed: Trial<readonly string[]> = {
  name: "feed",
  share: 0.1,
  make({ which, way, edits }) {
    const file = pickOf(feeds, which).text;
    const other = pickOf(feeds, which + 1).text;
    return way % 5 === 0
      ? text(
          edited(utf8.encode(file), edits, (now: Uint8Array, edit) => editBytes(now, edit, utf8.encode(other))),
        ).split("\n")
      : edited(file.split("\n"), edits, (now: string[], edit) => editLines(now, edit, other.split("\n")));
  },
  async read(lines, { which, way }) {
    const { job } = pickOf(feeds, which);
    const recording = Recording.begin({ job, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0", hash: sha256 });
    let file2 = recording.headerText;
    let refused = 0;
    for (const [index, line] of lines.entries()) {
      const input = orOwn(() => parseFeedLine(line, index + 1, recording.tMs, recording.job), FeedError);
      if (typeof input === "string") refused += 1;
      if (typeof input === "string" || input === null) continue;
      for (let silences = 0; ; silences += 1) {
        const due = recording.silenceDueMs();
        if (due === null || due > input.t) break;
        promise(silences < MOST_SILENCES, "silence without an end");
        file2 += recording.record({ type: "silence", t: Math.max(due, recording.tMs) }).text;
      }
      file2 += recording.record(input).text;
    }
    const read = readSessionBytes(utf8.encode(file2));
    promise(read.broken.length === 0 && read.torn === null, `written, but not read: ${read.broken[0]?.why}`);
    promise(read.differences.length === 0, `read otherwise than walked: ${read.differences[0]}`);
    await judgeSession(read, way);
    return refused > 0 ? "refused: FeedError" : "read";
  },
};

// ---- studies --------------------------------------------------------------------------------------------------

const studies = corpus.study();

const study: Trial<string> = {
  name: "study",
  share: 0.2,
  make: ({ way, edits }) => mutatedJson(studies[0] as string, jobs[1] as string, way, edits),
  async read(file) {
    const json = jsonOf(file);
    if (json === NO_JSON) return "no JSON";
    const table = orOwn(() => parseStudyFile(json.value), StudyFileError);
    if (typeof table === "string") return table;
    const report: unknown = JSON.parse(JSON.stringify(studyReport(table)));
    const parsed = studyResultSchema.safeParse(report);
    promise(parsed.success, `a study's result against its schema: ${parsed.error?.issues[0]?.path.join(".")}`);
    return "read";
  },
};

// ---- parcels --------------------------------------------------------------------------------------------------

const parcels = await Promise.all([
  parcelOf({ key: testKey("Bench shop") }),
  ...sessions.map((file) => makeParcel(utf8.encode(file), { app: APP })),
]);

const OUTCOMES = ["signed-known", "signed-new", "intact", "changed", "unreadable"];

/** A parcel with one of its files changed, and everything that can be made again without the key made again. */
function repacked(parcel: Buffer, way: number, edits: readonly Edit[]): Buffer {
  const files = new Map<ParcelFileName, Buffer>(filesOfZip(parcel).files);
  const names = [...files.keys()];
  const name = way % 3 === 0 ? "session.bwsession" : pickOf(names, way);
  const content = files.get(name) ?? Buffer.alloc(0);
  const lines = () => content.toString("utf8").split("\n");
  const changed = name.endsWith(".bwsession")
    ? resealed(
        edited(lines(), edits, (now: string[], edit) => editLines(now, edit, lines())),
        true,
      ).join("\n")
    : name.endsWith(".json")
      ? edited(content.toString("utf8"), edits, editJson)
      : Buffer.from(edited(new Uint8Array(content), edits, (now: Uint8Array, edit) => editBytes(now, edit, content)));
  files.set(name, Buffer.from(changed));
  if (name !== "manifest.json") files.set("manifest.json", restated(files));
  return rawZip({ entries: [...files].map(([each, data]) => ({ name: each, data })) });
}

/** The manifest with the sizes and hashes of the files as they are now. */
function restated(files: ReadonlyMap<ParcelFileName, Buffer>): Buffer {
  const manifest = JSON.parse((files.get("manifest.json") as Buffer).toString("utf8"));
  for (const entry of manifest.files) {
    const bytes = files.get(entry.name);
    if (bytes === undefined) continue;
    entry.size = bytes.length;
    entry.sha256 = sha256Of(bytes);
  }
  const last = /"seal":"([0-9a-f]{64})"[^\n]*\n?$/.exec((files.get("session.bwsession") as Buffer).toString("utf8"));
  const records = (files.get("session.bwsession") as Buffer).toString("utf8").trimEnd().split("\n").length - 1;
  if (last !== null) manifest.session = { ...manifest.session, seal: last[1], records };
  return Buffer.from(canonical(manifest), "utf8");
}

const parcel: Trial<Buffer> = {
  name: "parcel",
  share: 0.2,
  make({ which, way, edits }) {
    const { bytes } = pickOf(parcels, which);
    const other = pickOf(parcels, which + 1).bytes;
    return way % 2 === 0
      ? repacked(bytes, way >> 1, edits)
      : Buffer.from(edited(new Uint8Array(bytes), edits, (now: Uint8Array, edit) => editBytes(now, edit, other)));
  },
  async read(changed, { which, way }) {
    const { bytes, result } = pickOf(parcels, which);
    const packs = way % 2 === 0;
    const opened = await openParcel(changed, { app: APP, locate: way % 5 === 0 });
    const { check } = opened;
    promise(OUTCOMES.includes(check.outcome), `outcome ${check.outcome}`);
    if (check.why !== null) {
      clear(check.why);
      promise(!check.why.includes("could not be checked to the end"), check.why);
    }
    for (const { where, what } of check.changes) clear(`${where}: ${what}`);
    const intact = check.outcome !== "changed" && check.outcome !== "unreadable";
    promise(intact === (opened.session !== null && check.result !== null), "content of a parcel that is not intact");
    if (intact && !packs) promise(changed.equals(bytes), "a changed parcel passes for intact");
    if (intact && packs) {
      const own = filesOfZip(changed).files.get("session.bwsession") as Buffer;
      const old = filesOfZip(bytes).files.get("session.bwsession") as Buffer;
      // Who can compute sums can forge a whole parcel, but not findings that its record does not give.
      if (own.equals(old)) promise(same(check.result, result), "other findings of the same record pass for intact");
      promise(Object.keys(PARCEL_FILES).length > 0 && check.manifest !== null, "intact without a manifest");
    }
    return check.outcome;
  },
};

/** Every kind of file that the program reads. */
export const trials: readonly Trial[] = [session, jobFiles, feed, study, parcel] as unknown as Trial[];
