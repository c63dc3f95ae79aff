import { LONGEST_SESSION_MS } from "../gauge/ms.ts";
import { expectedText } from "../length/shownText.ts";
import { z } from "../zod.ts";
import type { SessionInput } from "./event.ts";
import { FEELS } from "./feel.ts";
import { jobFileSchema } from "./jobFile.ts";
import { canonical } from "./seal.ts";

const t = z
  .number()
  .min(0)
  .max(LONGEST_SESSION_MS)
  .describe("milliseconds since the start of the session; never falls");
const gauge = z.string().describe("the gauge's id in the job");
const celsius = z.number().min(-60).max(200).optional().describe("°C");
const place = z.object({ height: z.string(), clock: z.enum(["axial", "cross"]) });

/** What may be fed to the reducer, as it stands in a session file without its number and seal. */
export const sessionInputSchema = z.discriminatedUnion("type", [
  z.object({
    type: z.literal("line"),
    t,
    gauge,
    line: z.string(),
    by: z.literal("hand").optional().describe("typed by a person, as read from a dial or display"),
  }),
  z.object({
    type: z.literal("link"),
    t,
    gauge,
    link: z.enum(["open", "lost", "closed"]),
    path: z.string().optional(),
    why: z.string().optional(),
  }),
  z.object({
    type: z.literal("step"),
    t,
    step: z.enum(["lifters", "zero", "step-check", "bores", "return"]),
    lifter: z.string().optional(),
    openedNm: z.number().int().positive().optional(),
    blockC: celsius,
    lifterC: celsius,
    by: z.enum(["operator", "guide"]).optional(),
  }),
  z.object({ type: z.literal("temperature"), t, blockC: celsius, lifterC: celsius }),
  z.object({ type: z.literal("take"), t }),
  z.object({ type: z.literal("strike"), t }),
  z.object({ type: z.literal("back"), t }),
  z.object({ type: z.literal("hold"), t, on: z.boolean() }),
  z.object({ type: z.literal("go"), t, bore: z.string(), station: place.optional() }),
  z.object({ type: z.literal("silence"), t }),
  z.object({
    type: z.literal("correct"),
    t,
    gauge,
    polarity: z.enum(["+", "-"]).optional(),
    unit: z.enum(["in", "mm"]).optional(),
    gain: z.number().min(0.5).max(2).optional(),
  }),
  z.object({
    type: z.literal("pairing"),
    t,
    assignments: z.array(z.object({ bore: z.string(), lifter: z.string() })),
  }),
  z.object({
    type: z.literal("reconsider"),
    t,
    bore: z.string().optional(),
    station: place.optional(),
    sweepMs: t,
    use: z.enum(["kept", "struck"]),
  }),
  z.object({
    type: z.literal("feel"),
    t,
    bore: z.string(),
    found: z.enum(FEELS).nullable(),
    oil: z.string().optional(),
    note: z.string().optional(),
  }),
  z.object({ type: z.literal("resumed"), t, app: z.string() }),
  z.object({ type: z.literal("torn"), t, bytes: z.number().int().min(0) }),
  z.object({ type: z.literal("note"), t, text: z.string() }),
]);

const INPUT_TYPES = new Set(sessionInputSchema.options.map((option) => option.shape.type.value as string));

/** Whether a record's type is one that the reducer takes; other types are left alone. */
export function isInputType(type: unknown): boolean {
  return typeof type === "string" && INPUT_TYPES.has(type);
}

/**
 * Reads an event's fields from a record of a file.
 * @throws Error naming the field and what was expected.
 */
export function parseSessionInput(record: Record<string, unknown>): SessionInput {
  // Nearly every record is a line; it is checked by hand, so that an hour's stream is read in no time.
  if (record.type === "line") {
    const { t: at, gauge: id, line, by } = record;
    const inTime = typeof at === "number" && at >= 0 && at <= LONGEST_SESSION_MS;
    if (by === undefined && inTime && typeof id === "string" && typeof line === "string") {
      return { type: "line", t: at, gauge: id, line };
    }
  }
  const parsed = sessionInputSchema.safeParse(record);
  if (parsed.success) {
    if (!isSealable(parsed.data)) throw new Error("a text in it is not well-formed; no seal can hold it");
    return parsed.data as SessionInput;
  }
  const issue = parsed.error.issues[0];
  throw new Error(`${issue?.path.join(".") ?? "record"}: ${expectedText(issue?.message ?? "not an event")}`);
}

function isSealable(input: object): boolean {
  try {
    canonical(input);
    return true;
  } catch {
    return false;
  }
}

const sealed = { n: z.number().int().min(1), seal: z.string().regex(/^[0-9a-f]{64}$/) };

/** One line of a session file: the header or an event. */
export const sessionLineSchema = z.union([
  z.object({
    format: z.literal("borewright/session"),
    version: z.literal(1),
    created: z.iso.datetime({ offset: true }),
    app: z.string(),
    job: jobFileSchema,
    derivedFrom: z.object({ name: z.string(), created: z.string(), seal: sealed.seal }).optional(),
    seal: sealed.seal,
  }),
  ...sessionInputSchema.options.map((option) => option.extend(sealed)),
  z.looseObject({
    type: z.literal("kept"),
    t,
    what: z.enum(["lifter", "zero", "step-check", "station"]),
    ...sealed,
  }),
]);
