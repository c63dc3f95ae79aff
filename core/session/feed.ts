import { LONGEST_SESSION_MS } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import { LengthError, parseLength } from "../length/parseLength.ts";
import { errorText, expectedText, shownValue, wellFormed } from "../length/shownText.ts";
import { z } from "../zod.ts";
import type { SessionInput } from "./event.ts";
import { isLifter, type Job } from "./job.ts";

/** Thrown for a record of a feed that makes no sense; `line` is its line in the file, 1 = first. */
export class FeedError extends Error {
  override readonly name = "FeedError";
  readonly line: number;
  /** The field, or "" for the whole record. */
  readonly path: string;
  constructor(line: number, path: string, message: string) {
    super(errorText(path === "" ? message : `${errorText(path)}: ${message}`));
    this.line = line;
    this.path = path;
  }
}

const t = z.number().min(0).max(LONGEST_SESSION_MS).describe("milliseconds from the start; never goes back");
const celsius = z.number().min(-60).max(200).optional().describe("°C");
const bore = z.string().min(1).describe('a bore of the layout, such as "5I"');
const length = z.string().describe('a length with its unit, such as "0.0010 in" or "0.02 mm"');
const gauge = z.string().min(1).describe("the id of a gauge of the job");

const lineRecord = z.strictObject({
  t,
  gauge,
  line: z.string().refine(wellFormed, "expected well-formed text").describe("one line as the gauge sent it"),
  by: z.literal("hand").optional().describe("typed by a person, as read from a dial or display"),
});
const linkRecord = z.strictObject({ t, gauge, link: z.enum(["open", "lost", "closed"]) });

const stepRecord = z.discriminatedUnion("step", [
  z.strictObject({ t, step: z.literal("lifters"), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("zero"), lifter: bore.optional(), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("step-check"), opened: length.optional(), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("bores"), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("return"), lifter: bore.optional(), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("temperature"), blockC: celsius, lifterC: celsius }),
  z.strictObject({ t, step: z.literal("take") }),
  z.strictObject({ t, step: z.literal("strike") }),
  z.strictObject({ t, step: z.literal("back") }),
  z.strictObject({ t, step: z.literal("hold"), on: z.boolean().optional() }),
  z.strictObject({
    t,
    step: z.literal("go"),
    bore,
    station: z.strictObject({ height: z.string().min(1), clock: z.enum(["axial", "cross"]) }).optional(),
  }),
  z.strictObject({
    t,
    step: z.literal("correct"),
    gauge,
    polarity: z.enum(["+", "-"]).optional(),
    unit: z.enum(["in", "mm"]).optional(),
    gain: z.number().min(0.5).max(2).optional(),
  }),
]);

/** One line of a feed: a gauge's line, its port coming or going, or what the operator chose. */
export const feedRecordSchema = z.union([lineRecord, linkRecord, stepRecord]);

const STEPS = stepRecord.options.map((option) => option.shape.step.value);

/**
 * Reads one line of a feed as the event it stands for; null for a blank line.
 * @param lineNumber its line in the file, for the error
 * @param afterMs time of the record before it; it may not be earlier
 * @throws FeedError with what was found and what was expected.
 */
export function parseFeedLine(text: string, lineNumber: number, afterMs: number, job: Job): SessionInput | null {
  if (text.trim() === "") return null;
  const record = parseRecord(text, lineNumber);
  const event = "line" in record || "link" in record ? ofGauge(record) : ofStep(record, lineNumber);
  if (event.t < afterMs) {
    throw new FeedError(
      lineNumber,
      "t",
      `time goes back: found ${event.t} after ${afterMs}; expected it never to fall`,
    );
  }
  if ("gauge" in event) checkGauge(event.gauge, lineNumber, job);
  if (event.type === "step" && event.lifter !== undefined) checkLifter("lifter", event.lifter, lineNumber, job);
  if (event.type === "go") checkGo(event, lineNumber, job);
  return event;
}

type FeedRecord = z.infer<typeof feedRecordSchema>;
type StepRecord = z.infer<typeof stepRecord>;

function parseRecord(text: string, lineNumber: number): FeedRecord {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    throw new FeedError(lineNumber, "", `found ${shownValue(text)}; expected one JSON object a line`);
  }
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    throw new FeedError(
      lineNumber,
      "",
      `found ${shownValue(json)}; expected an object such as {"t": 0, "step": "zero"}`,
    );
  }
  const schema = "step" in json ? stepRecord : "line" in json ? lineRecord : "link" in json ? linkRecord : null;
  if (schema === null) {
    throw new FeedError(lineNumber, "", 'found neither "line" nor "step"; expected a gauge\'s line or a step');
  }
  const parsed = schema.safeParse(json);
  if (parsed.success) return parsed.data;
  const issue = parsed.error.issues[0];
  if (issue === undefined) throw new FeedError(lineNumber, "", "not a record of a feed");
  if (issue.code === "unrecognized_keys") {
    throw new FeedError(lineNumber, issue.keys[0] ?? "", "unknown field; expected none of that name here");
  }
  const path = issue.path.map(String).join(".");
  const found = issue.path.reduce<unknown>(
    (value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key],
    json,
  );
  const expected = path === "step" ? `expected one of ${STEPS.join(", ")}` : expectedText(issue.message);
  throw new FeedError(lineNumber, path, `found ${shownValue(found)}; ${expected}`);
}

function ofGauge(record: z.infer<typeof lineRecord> | z.infer<typeof linkRecord>): SessionInput {
  return "line" in record
    ? {
        type: "line",
        t: record.t,
        gauge: record.gauge,
        line: record.line,
        ...(record.by === undefined ? {} : { by: record.by }),
      }
    : { type: "link", t: record.t, gauge: record.gauge, link: record.link };
}

function ofStep(record: StepRecord, lineNumber: number): SessionInput {
  switch (record.step) {
    case "take":
    case "strike":
    case "back":
      return { type: record.step, t: record.t };
    case "hold":
      return { type: "hold", t: record.t, on: record.on ?? true };
    case "go":
      return {
        type: "go",
        t: record.t,
        bore: record.bore,
        ...(record.station === undefined ? {} : { station: record.station }),
      };
    case "temperature":
      return { type: "temperature", t: record.t, ...temperatures(record) };
    case "correct":
      return {
        type: "correct",
        t: record.t,
        gauge: record.gauge,
        ...(record.polarity === undefined ? {} : { polarity: record.polarity }),
        ...(record.unit === undefined ? {} : { unit: record.unit }),
        ...(record.gain === undefined ? {} : { gain: record.gain }),
      };
    default:
      return {
        type: "step",
        t: record.t,
        step: record.step,
        ...("lifter" in record && record.lifter !== undefined ? { lifter: record.lifter } : {}),
        ...("opened" in record && record.opened !== undefined ? { openedNm: opened(record.opened, lineNumber) } : {}),
        ...temperatures(record),
      };
  }
}

function temperatures(record: { blockC?: number | undefined; lifterC?: number | undefined }) {
  return {
    ...(record.blockC === undefined ? {} : { blockC: record.blockC }),
    ...(record.lifterC === undefined ? {} : { lifterC: record.lifterC }),
  };
}

function opened(text: string, lineNumber: number): Nm {
  try {
    const value = parseLength(text);
    if (value > 0) return value;
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    throw new FeedError(lineNumber, "opened", error.message);
  }
  throw new FeedError(lineNumber, "opened", `found ${shownValue(text)}; expected a length above zero`);
}

function checkGauge(id: string, lineNumber: number, job: Job): void {
  if (job.gauges.some((entry) => entry.id === id)) return;
  const known = job.gauges.map((entry) => `"${entry.id}"`).join(", ");
  throw new FeedError(lineNumber, "gauge", `found "${id}"; expected a gauge of the job: ${known}`);
}

function checkLifter(path: string, name: string, lineNumber: number, job: Job): void {
  if (isLifter(job, name)) return;
  throw new FeedError(
    lineNumber,
    path,
    `found "${name}"; expected a lifter, named after its bore, such as "${job.walk[0]}"`,
  );
}

function checkGo(event: Extract<SessionInput, { type: "go" }>, lineNumber: number, job: Job): void {
  if (!job.walk.includes(event.bore)) {
    throw new FeedError(
      lineNumber,
      "bore",
      `found "${event.bore}"; expected a bore of the walk: ${job.walk.join(", ")}`,
    );
  }
  const { station } = event;
  if (station === undefined) return;
  if (job.stations.some((place) => place.height === station.height && place.clock === station.clock)) return;
  throw new FeedError(lineNumber, "station", `found ${station.height} ${station.clock}; expected a station of the job`);
}
