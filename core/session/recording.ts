import { errorText, shownValue } from "../length/shownText.ts";
import type { SessionInput } from "./event.ts";
import { isInputType, parseSessionInput } from "./eventSchema.ts";
import type { NextStep } from "./guide.ts";
import type { Job } from "./job.ts";
import { JobError } from "./jobError.ts";
import { type JobFile, jobFileWithDefaults, parseJob } from "./jobFile.ts";
import type { Outcome } from "./outcome.ts";
import { type FileRecord, plainLine } from "./plainLine.ts";
import { canonical, type Hash, pureHash, sealHolds, sealRecord } from "./seal.ts";
import { SessionRun } from "./sessionRun.ts";
import { simulatedGauge } from "./simulatedPath.ts";
import type { SessionView, ViewChange } from "./view.ts";

/** The first line of a session file. */
export interface SessionHeader {
  readonly format: "borewright/session";
  readonly version: 1;
  readonly created: string;
  readonly app: string;
  readonly job: JobFile;
  /** Of a derived session: the one it was made from, by its last seal. */
  readonly derivedFrom?: Parent;
}

/** The session that another was derived from. */
export interface Parent {
  readonly name: string;
  readonly created: string;
  readonly seal: string;
}

/** A place where the chain of seals does not hold: the line of the file (1 = header) and what is wrong there. */
export interface BrokenSeal {
  readonly line: number;
  readonly why: string;
}

/** What reading a session file found. */
export interface ReadSession {
  readonly header: SessionHeader;
  readonly recording: Recording;
  /** Every event as it stands in the file, computed records left out. */
  readonly inputs: readonly SessionInput[];
  /** Bytes after the last whole record, as a power cut leaves them; null when the file ends cleanly. */
  readonly torn: { readonly bytes: number; readonly wholeBytes: number } | null;
  readonly broken: readonly BrokenSeal[];
  /** Where a record written at the time does not agree with what its raw lines give now. */
  readonly differences: readonly string[];
}

/** How a session file is read. */
export interface ReadOptions {
  readonly hash?: Hash;
  /** Fields of the job to judge by in place of those in the header: a look at "what if", which the record does not hold. */
  readonly job?: Partial<JobFile>;
}

/** One event read from a file, what it brought about, and the recording after it. */
export interface ReadStep {
  readonly input: SessionInput;
  readonly outcomes: readonly Outcome[];
  readonly recording: Recording;
}

/** Thrown when a file is no session at all; the message says what was found and what was expected. */
export class SessionError extends Error {
  override readonly name = "SessionError";
  /** Line of the file, 1 = header. */
  readonly line: number;
  constructor(line: number, message: string) {
    super(errorText(message));
    this.line = line;
  }
}

/** Outcomes that are written down beside the raw lines, so that a later reading can compare. */
const KEPT = new Set<Outcome["type"]>(["lifter", "station", "zero", "step-check"]);

function keptRecord(outcome: Outcome): object {
  const { type, ...rest } = outcome;
  return { ...rest, type: "kept", what: type };
}

/**
 * A session being written or read: its events, sealed one to the next, and the run that gives them meaning. Pure; the
 * host writes the text to disk and announces the outcomes only after that.
 */
export class Recording {
  readonly job: Job;
  readonly run: SessionRun;
  readonly headerText: string;
  readonly #hash: Hash;
  #seal: string;
  #n = 0;
  /** Computed records not yet on file: their raw lines were, but the power went before they were written. */
  #unwritten: Outcome[] = [];
  #simulated = false;

  private constructor(header: SessionHeader, seal: string, headerText: string, hash: Hash) {
    this.job = parseJob(header.job);
    this.run = new SessionRun(this.job);
    this.headerText = headerText;
    this.#seal = seal;
    this.#hash = hash;
  }

  /**
   * Begins a session. `createdIso` is the time of its start, `app` the program and version.
   * @throws JobError if the job makes no sense.
   */
  static begin(input: {
    readonly job: unknown;
    readonly createdIso: string;
    readonly app: string;
    readonly derivedFrom?: Parent;
    readonly hash?: Hash;
  }): Recording {
    const hash = input.hash ?? pureHash;
    const header: SessionHeader = {
      format: "borewright/session",
      version: 1,
      created: input.createdIso,
      app: input.app,
      job: jobFileWithDefaults(input.job),
      ...(input.derivedFrom === undefined ? {} : { derivedFrom: input.derivedFrom }),
    };
    const { seal, line } = sealRecord("", header, hash);
    return new Recording(header, seal, `${line}\n`, hash);
  }

  /**
   * Reads a session file's text. A torn last record is left out and reported; a broken seal is reported with its line
   * and the reading goes on; whatever the lines say is computed again and compared with what was recorded.
   * @throws SessionError if the first line is not a session's header.
   */
  static read(text: string, options: ReadOptions = {}): ReadSession {
    const steps = Recording.readByLine(text, options);
    for (;;) {
      const step = steps.next();
      if (step.done === true) return step.value;
    }
  }

  /**
   * `read`, a line of the file at a time, for a program that has a gauge to listen to in between, or that shows what
   * happened; null for a line that is no event.
   */
  static readByLine(text: string, options: ReadOptions = {}): Generator<ReadStep | null, ReadSession, void> {
    return readSession(text, options);
  }

  /** Time of the last event, ms since the start. */
  get tMs(): number {
    return this.run.tMs;
  }

  /** Seal of the last record. */
  get seal(): string {
    return this.#seal;
  }

  /** Whether a simulated gauge was ever connected: such a record proves nothing about a block. From the link paths. */
  get simulated(): boolean {
    return this.#simulated;
  }

  /** Number of the last record, computed ones included. */
  get n(): number {
    return this.#n;
  }

  /**
   * Applies an event. Returns the text to append to the file (the sealed event and what was computed from it) and the
   * outcomes to announce once that text is on disk.
   * @throws RangeError if time goes back.
   */
  record(input: SessionInput): { readonly text: string; readonly outcomes: readonly Outcome[] } {
    const outcomes = this.#apply(input);
    let text = "";
    for (const outcome of this.#unwritten.splice(0)) text += this.#append(keptRecord(outcome));
    text += this.#append(input);
    for (const outcome of outcomes) if (KEPT.has(outcome.type)) text += this.#append(keptRecord(outcome));
    return { text, outcomes };
  }

  silenceDueMs(): number | null {
    return this.run.silenceDueMs();
  }

  interruptionDueMs(): number | null {
    return this.run.interruptionDueMs();
  }

  guideNext(): NextStep | null {
    return this.run.guideNext();
  }

  view(): SessionView {
    return this.run.view();
  }

  viewOf(bores: readonly string[]): ViewChange {
    return this.run.viewOf(bores);
  }

  #apply(input: SessionInput): readonly Outcome[] {
    const outcomes = this.run.apply(input);
    if (input.type === "link" && simulatedGauge(input.path) !== null) this.#simulated = true;
    return outcomes;
  }

  #append(record: object): string {
    const { seal, line } = this.#next(record);
    this.follow(this.#n + 1, seal);
    return `${line}\n`;
  }

  #next(record: object): { seal: string; line: string } {
    return sealRecord(this.#seal, { ...record, n: this.#n + 1 }, this.#hash);
  }

  /** For the reader: a record that stands in the file already. */
  static resumeAt(header: SessionHeader, seal: string, headerText: string, hash: Hash): Recording {
    return new Recording(header, seal, headerText, hash);
  }

  /** For the reader: the chain goes on after this record. */
  follow(n: number, seal: string): void {
    this.#n = n;
    this.#seal = seal;
  }

  /**
   * For the reader: whether `line` is what would be written next for a computed record, to the letter. Then it is
   * whole, agrees, and its seal holds, and the chain goes on after it.
   */
  followKept(outcome: Outcome, line: string): boolean {
    const next = this.#next(keptRecord(outcome));
    if (next.line !== line) return false;
    this.follow(this.#n + 1, next.seal);
    return true;
  }

  /** For the reader: an event that stands in the file already. @throws RangeError if time goes back. */
  replay(input: SessionInput): readonly Outcome[] {
    return this.#apply(input);
  }

  /** For the reader: computed records whose raw lines are on file but which are not. */
  owe(outcomes: readonly Outcome[]): void {
    this.#unwritten = [...outcomes];
  }
}

function parseLine(line: string): FileRecord | null {
  try {
    const value: unknown = JSON.parse(line);
    return typeof value === "object" && value !== null && !Array.isArray(value) ? (value as FileRecord) : null;
  } catch {
    return null;
  }
}

function readHeader(line: string): SessionHeader & { seal?: unknown } {
  const record = parseLine(line);
  if (record === null) throw new SessionError(1, "the first line is not JSON; expected a session's header");
  if (record.format !== "borewright/session") {
    throw new SessionError(1, `found format ${shownValue(record.format)}; expected "borewright/session"`);
  }
  if (record.version !== 1) {
    throw new SessionError(1, `found version ${shownValue(record.version)}; this program reads version 1`);
  }
  for (const field of ["created", "app"] as const) {
    if (typeof record[field] !== "string") {
      throw new SessionError(
        1,
        `${field}: found ${shownValue(record[field])}; expected a text in the session's header`,
      );
    }
  }
  return record as unknown as SessionHeader & { seal?: unknown };
}

function begunRecording(header: SessionHeader, seal: string, headerText: string, hash: Hash): Recording {
  try {
    return Recording.resumeAt(header, seal, headerText, hash);
  } catch (error) {
    if (error instanceof JobError) throw new SessionError(1, `the header's job: ${error.message}`);
    throw error;
  }
}

function* readSession(text: string, options: ReadOptions): Generator<ReadStep | null, ReadSession, void> {
  const hash = options.hash ?? pureHash;
  const end = text.lastIndexOf("\n");
  if (end === -1) throw new SessionError(1, "the header is incomplete: the file ends before its first line does");
  const whole = text.slice(0, end + 1);
  const headerEnd = whole.indexOf("\n");
  const headerLine = whole.slice(0, headerEnd);
  const header = readHeader(headerLine);
  const broken: BrokenSeal[] = [];
  if (!sealHolds("", headerLine, header, hash)) broken.push({ line: 1, why: "the header does not match its seal" });
  let seal = typeof header.seal === "string" ? header.seal : "";
  const judged = { ...header, job: { ...header.job, ...options.job } };
  const recording = begunRecording(judged, seal, `${headerLine}\n`, hash);
  const inputs: SessionInput[] = [];
  const differences: string[] = [];
  const owed: Outcome[] = [];
  let n = 0;
  let start = headerEnd + 1;
  let lineNumber = 1;
  let tornAt = whole.length;
  while (start < whole.length) {
    let step: ReadStep | null = null;
    const stop = whole.indexOf("\n", start);
    const line = whole.slice(start, stop);
    lineNumber += 1;
    const [due] = owed;
    if (due !== undefined && line.includes('"type":"kept"') && recording.followKept(due, line)) {
      owed.shift();
      ({ n, seal } = recording);
      start = stop + 1;
      yield null;
      continue;
    }
    const record = plainLine(line) ?? parseLine(line);
    if (record === null) {
      // A last line that is no record at all is what a power cut leaves; anywhere else it is damage.
      if (stop + 1 >= whole.length) {
        tornAt = start;
        break;
      }
      broken.push({ line: lineNumber, why: "not a record" });
      start = stop + 1;
      continue;
    }
    if (!sealHolds(seal, line, record, hash)) {
      broken.push({ line: lineNumber, why: "the record does not match its seal" });
    } else if (record.n !== n + 1) {
      broken.push({ line: lineNumber, why: `found n ${shownValue(record.n)}; expected ${n + 1}` });
    }
    n = Number.isSafeInteger(record.n) ? (record.n as number) : n + 1;
    if (typeof record.seal === "string") seal = record.seal;
    recording.follow(n, seal);
    if (record.type === "kept") compareKept(owed, record, lineNumber, differences);
    else if (isInputType(record.type)) {
      try {
        const input = parseSessionInput(record);
        for (const outcome of owed.splice(0)) differences.push(notRecorded(outcome, lineNumber));
        const outcomes = recording.replay(input);
        owed.push(...outcomes.filter((outcome) => KEPT.has(outcome.type)));
        inputs.push(input);
        step = { input, outcomes, recording };
      } catch (error) {
        broken.push({ line: lineNumber, why: errorText(error instanceof Error ? error.message : String(error)) });
      }
    }
    start = stop + 1;
    yield step;
  }
  recording.owe(owed);
  const tail = text.length - tornAt;
  const encoder = (part: string) => utf8Length(part);
  return {
    header,
    recording,
    inputs,
    torn: tail === 0 ? null : { bytes: encoder(text.slice(tornAt)), wholeBytes: encoder(text.slice(0, tornAt)) },
    broken,
    differences,
  };
}

/** Length of a text in UTF-8 bytes. */
function utf8Length(text: string): number {
  let bytes = 0;
  for (const character of text) {
    const point = character.codePointAt(0) ?? 0;
    bytes += point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4;
  }
  return bytes;
}

/** Compares a computed record on file with what the raw lines before it give now. */
function compareKept(owed: Outcome[], record: Record<string, unknown>, line: number, differences: string[]): void {
  const { n: _n, seal: _seal, ...found } = record;
  const outcome = owed.shift();
  if (outcome === undefined) {
    differences.push(`line ${line}: recorded ${nameRecord(found)}, but its raw lines give nothing there`);
    return;
  }
  const now = keptRecord(outcome);
  if (sameRecord(now, found)) return;
  differences.push(`line ${line}: recorded ${nameRecord(found)}, now ${nameRecord(now as Record<string, unknown>)}`);
}

/** A computed record that should stand before this line: one is written, at the latest, with the next event. */
function notRecorded(outcome: Outcome, line: number): string {
  return `line ${line}: its raw lines give ${nameRecord(keptRecord(outcome) as Record<string, unknown>)} before it, which is not recorded`;
}

/** A record from a damaged line may hold what canonical JSON can not; it is then no computed one. */
function sameRecord(computed: object, found: object): boolean {
  try {
    return canonical(computed) === canonical(found);
  } catch {
    return false;
  }
}

function nameRecord(record: Record<string, unknown>): string {
  const place = record.place as { height?: string; clock?: string } | undefined;
  const where = [record.what, record.bore ?? record.name, place?.height, place?.clock]
    .filter((part) => typeof part === "string")
    .join(" ");
  const reference = record.reference as { valueNm?: number } | undefined;
  const value = record.valueNm ?? record.diameterNm ?? record.answerNm ?? reference?.valueNm;
  return errorText(value === undefined ? where : `${where} ${shownValue(value)} nm`);
}
