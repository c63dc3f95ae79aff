import type { Layout } from "../block/layout.ts";
import { layoutById } from "../block/layouts.ts";
import { LayoutError, parseLayout } from "../block/parseLayout.ts";
import { walkOrder } from "../block/walkOrder.ts";
import { BUDGET_DEFAULTS } from "../fit/budgetDefaults.ts";
import type { Limits, Material } from "../fit/finding.ts";
import { SHIPPED_LIMITS } from "../fit/limitsDefaults.ts";
import { MATERIALS } from "../fit/materials.ts";
import { formatLength } from "../length/formatLength.ts";
import type { Nm } from "../length/nm.ts";
import { LengthError, parseLength } from "../length/parseLength.ts";
import { expectedText, shownValue, wellFormed } from "../length/shownText.ts";
import { z } from "../zod.ts";
import type { Job, JobGauge } from "./job.ts";
import { JobError } from "./jobError.ts";
import { lifterNotesOf } from "./lifterNotes.ts";

const text = (max: number) => z.string().max(max).refine(wellFormed, "expected well-formed text");

const length = z.string().superRefine((value, context) => {
  try {
    parseLength(value);
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    context.addIssue({ code: "custom", message: error.message });
  }
});

const station = z.strictObject({ height: text(40).min(1), clock: z.enum(["axial", "cross"]) });

const gauge = z.strictObject({
  id: z.string().regex(/^[A-Za-z0-9._-]{1,40}$/, "expected 1 to 40 letters, digits, dots, dashes or underscores"),
  role: z.enum(["bore", "micrometer"]),
  sends: z.enum(["stream", "press", "held"]).optional(),
  unit: z.enum(["in", "mm"]).optional(),
  resolution: length.optional(),
  polarity: z.enum(["+", "-"]).optional(),
  line: z.enum(["auto", "decimal", "decimal-unit", "decimal-comma", "channel-tagged"]).optional(),
  request: text(40).min(1).optional(),
  source: z
    .literal("typed")
    .optional()
    .describe("the gauge has no data output: a person reads its dial and types; resolution is what can be read by eye"),
  serial: z
    .strictObject({
      baud: z.number().int().min(50).max(4_000_000).optional(),
      framing: z
        .string()
        .regex(/^[78][NEO][12]$/, 'expected data bits, parity, stop bits such as "8N1" or "7E2"')
        .optional(),
      dtr: z.boolean().optional(),
      rts: z.boolean().optional(),
      settleMs: z.number().int().min(0).max(10_000).optional(),
    })
    .optional(),
});

/** A material that the program knows by name, or one with its own expansion, 1e-6 per °C, and its half-width. */
const material = z.union([
  z.string(),
  z.strictObject({
    name: text(60).min(1),
    alpha: z.number().min(-5).max(50),
    alphaHalfWidth: z.number().min(0).max(10).optional(),
    source: text(400).optional(),
  }),
]);

/** The job file as a person writes it. What is left out takes its default; what is unknown is refused. */
export const jobFileSchema = z.strictObject({
  format: z.literal("borewright/job"),
  version: z.literal(1),
  title: text(200).optional(),
  block: text(200).optional(),
  operator: text(200).optional(),
  layout: z.union([z.string(), z.record(z.string(), z.unknown())]).optional(),
  walk: z.union([z.enum(["bank", "firing"]), z.array(z.string()).min(1)]).optional(),
  stations: z.array(station).min(1).max(24).optional(),
  lifter: z.strictObject({ style: z.enum(["flat", "roller"]).optional(), nominal: length.optional() }).optional(),
  limits: z
    .strictObject({
      low: length.optional(),
      high: length.optional(),
      preferredLow: length.optional(),
      preferredHigh: length.optional(),
      serviceHigh: length.optional(),
      source: text(400).optional(),
    })
    .optional(),
  materials: z.strictObject({ block: material.optional(), lifter: material.optional() }).optional(),
  rule: z.enum(["simple", "guarded"]).optional(),
  sweepsPerStation: z.number().int().min(2).max(12).optional(),
  agreement: length.optional(),
  returnCheckEvery: z.number().int().min(0).max(1000).optional(),
  zeroHold: length.optional(),
  pressesPerLifter: z.number().int().min(1).max(20).optional(),
  budget: z
    .strictObject({
      indicator: length.optional(),
      transfer: length.optional(),
      micrometer: length.optional(),
      centring: length.optional(),
      temperatureHalfWidthC: z.number().min(0).max(50).optional(),
      thermometerHalfWidthC: z.number().min(0).max(50).optional(),
    })
    .optional(),
  gauges: z.array(gauge).min(1).max(8).optional(),
  lifters: z
    .record(
      z.string(),
      z.strictObject({
        used: z.boolean().optional(),
        pairedWith: z.string().optional(),
        mayTurn: z.boolean().optional(),
        pinned: z.union([z.boolean(), z.string()]).optional(),
        keptFrom: z.array(z.string()).max(200).optional(),
        spare: z.boolean().optional(),
      }),
    )
    .optional(),
});
export type JobFile = z.infer<typeof jobFileSchema>;

/** Prints a zod path as `gauges[0].unit`. */
function printPath(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, key) => (typeof key === "number" ? `${text}[${key}]` : text === "" ? String(key) : `${text}.${String(key)}`),
    "",
  );
}

type Issue = z.core.$ZodIssue;

/** Where a field may be one of several shapes: what is wrong with the one that was meant, which is read the farthest. */
function innermost(issue: Issue): Issue {
  if (issue.code !== "invalid_union") return issue;
  const inner = issue.errors.flatMap(([own]) => (own === undefined ? [] : [innermost(own)]));
  const farthest = inner.sort((a, b) => b.path.length - a.path.length)[0];
  if (farthest === undefined || farthest.path.length === 0) return issue;
  return { ...farthest, path: [...issue.path, ...farthest.path] };
}

function parseShape(json: unknown): JobFile {
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    throw new JobError("", 'expected an object with "format": "borewright/job"');
  }
  const parsed = jobFileSchema.safeParse(json);
  if (parsed.success) return parsed.data;
  const [first] = parsed.error.issues;
  if (first === undefined) throw new JobError("", "not a job");
  const issue = innermost(first);
  if (issue.code === "unrecognized_keys") {
    const path = printPath([...issue.path, issue.keys[0] ?? ""]);
    const known = issue.path.length === 0 ? `; known: ${Object.keys(jobFileSchema.shape).join(", ")}` : "";
    throw new JobError(path, `unknown field${known}`);
  }
  const found = issue.path.reduce<unknown>(
    (value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key],
    json,
  );
  const says = issue.code === "custom" ? issue.message : `found ${shownValue(found)}; ${expectedText(issue.message)}`;
  throw new JobError(printPath(issue.path), says);
}

const DEFAULT_STATIONS = [
  { height: "upper", clock: "axial" },
  { height: "lower", clock: "axial" },
] as const;

function layoutOf(file: JobFile): Layout {
  const layout = file.layout ?? "v8-alternate";
  try {
    return typeof layout === "string" ? layoutById(layout) : parseLayout(layout);
  } catch (error) {
    if (error instanceof LayoutError) {
      throw new JobError(error.path === "" ? "layout" : error.path, error.message);
    }
    throw error;
  }
}

function walkOf(layout: Layout, walk: JobFile["walk"]): string[] {
  try {
    return walkOrder(layout, walk ?? "bank");
  } catch (error) {
    if (error instanceof LayoutError) throw new JobError(error.path, error.message);
    throw error;
  }
}

/** No clearance of a lifter in its bore comes near it, nm: 10 mm. Our choice; a length without it can break sums. */
const LARGEST_CLEARANCE_NM = 10_000_000;

function limitsOf(file: JobFile, style: "flat" | "roller"): Limits {
  const given = file.limits;
  const shipped = SHIPPED_LIMITS[style];
  if (given === undefined) return shipped;
  if ((given.low === undefined) !== (given.high === undefined)) {
    throw new JobError(`limits.${given.low === undefined ? "low" : "high"}`, "missing; low and high go together");
  }
  if ((given.preferredLow === undefined) !== (given.preferredHigh === undefined)) {
    throw new JobError(
      `limits.${given.preferredLow === undefined ? "preferredLow" : "preferredHigh"}`,
      "missing; preferredLow and preferredHigh go together",
    );
  }
  const own = given.low !== undefined;
  const optional = (value: string | undefined, otherwise: Nm | null) =>
    value === undefined ? otherwise : parseLength(value);
  const limits: Limits = {
    lowNm: given.low === undefined ? shipped.lowNm : parseLength(given.low),
    highNm: given.high === undefined ? shipped.highNm : parseLength(given.high),
    preferredLowNm: optional(given.preferredLow, own ? null : shipped.preferredLowNm),
    preferredHighNm: optional(given.preferredHigh, own ? null : shipped.preferredHighNm),
    serviceHighNm: optional(given.serviceHigh, null),
    source: given.source ?? (own ? "not stated" : shipped.source),
  };
  for (const name of ["low", "high", "preferredLow", "preferredHigh", "serviceHigh"] as const) {
    const value = limits[`${name}Nm`];
    if (value !== null && Math.abs(value) > LARGEST_CLEARANCE_NM) {
      throw new JobError(`limits.${name}`, `found ${shownValue(given[name])}; expected a clearance of at most 10 mm`);
    }
  }
  const { lowNm, highNm, preferredLowNm, preferredHighNm, serviceHighNm } = limits;
  if (lowNm >= highNm) {
    throw new JobError(
      "limits",
      `the wrong way round: low ${given.low} is not below high ${given.high}; expected low < high`,
    );
  }
  if (preferredLowNm !== null && preferredHighNm !== null) {
    if (preferredLowNm > preferredHighNm) {
      throw new JobError("limits", "preferredLow is above preferredHigh; expected preferredLow ≤ preferredHigh");
    }
    if (preferredLowNm < lowNm || preferredHighNm > highNm) {
      throw new JobError("limits", "the preferred band lies outside the limits; expected it inside low … high");
    }
  }
  if (serviceHighNm !== null && serviceHighNm < highNm) {
    throw new JobError("limits.serviceHigh", "below high; expected the wear limit at or above the limit for a new fit");
  }
  return limits;
}

function gaugesOf(file: JobFile): JobGauge[] {
  const given = file.gauges ?? [
    { id: "bore", role: "bore" as const },
    { id: "mic", role: "micrometer" as const, sends: "press" as const },
  ];
  const gauges = given.map((entry, index): JobGauge => {
    const unit = entry.unit ?? "in";
    const resolutionNm = parseLength(entry.resolution ?? (unit === "in" ? "0.00005 in" : "0.001 mm"));
    if (resolutionNm <= 0) throw new JobError(`gauges[${index}].resolution`, "expected a length above zero");
    if (resolutionNm > 1_000_000)
      throw new JobError(`gauges[${index}].resolution`, "coarser than 1 mm; expected a gauge's step");
    return {
      id: entry.id,
      role: entry.role,
      // Of a dial the person reads the smallest, as a gauge that holds its minimum does.
      sends: entry.sends ?? (entry.role !== "bore" ? "press" : entry.source === "typed" ? "held" : "stream"),
      unit,
      resolutionNm,
      polarity: entry.polarity === "-" ? -1 : 1,
      line: entry.line ?? "auto",
      ...(entry.request === undefined ? {} : { request: entry.request }),
      ...(entry.source === undefined ? {} : { source: entry.source }),
      ...(entry.serial === undefined ? {} : { serial: dropUndefined(entry.serial) }),
    };
  });
  for (const [index, entry] of gauges.entries()) {
    if (gauges.findIndex((other) => other.id === entry.id) !== index) {
      throw new JobError(`gauges[${index}].id`, `"${entry.id}" is there twice; expected an id of its own`);
    }
  }
  for (const role of ["bore", "micrometer"] as const) {
    const count = gauges.filter((entry) => entry.role === role).length;
    if (count > 1) throw new JobError("gauges", `${count} gauges with the role "${role}"; expected at most one`);
    if (count === 0 && role === "bore") throw new JobError("gauges", 'no gauge with the role "bore"; expected one');
  }
  return gauges;
}

function dropUndefined<T extends object>(value: T): { [K in keyof T]: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(value).filter(([, entry]) => entry !== undefined)) as {
    [K in keyof T]: Exclude<T[K], undefined>;
  };
}

function positive(path: string, text: string, atMostNm: number): Nm {
  const value = parseLength(text);
  if (value <= 0) throw new JobError(path, `found "${text}"; expected a length above zero`);
  if (value > atMostNm) {
    throw new JobError(path, `found "${text}"; expected at most ${formatLength(atMostNm as Nm, "mm", 3)} mm`);
  }
  return value;
}

type GivenMaterial = z.infer<typeof material>;

/** Half-width of an expansion coefficient of which only the value is given, 1e-6 per °C: as of the shipped ones. */
const ALPHA_HALF_WIDTH = 1;

function materialOf(path: string, given: GivenMaterial): Material {
  if (typeof given === "object") {
    if (Object.hasOwn(MATERIALS, given.name)) {
      throw new JobError(`${path}.name`, `"${given.name}" is a material that ships; expected a name of its own`);
    }
    return {
      id: given.name,
      alpha: given.alpha,
      alphaHalfWidth: given.alphaHalfWidth ?? ALPHA_HALF_WIDTH,
      source: given.source ?? "not stated",
    };
  }
  // A name such as "constructor" is one of the table's own language and no material.
  const known = Object.hasOwn(MATERIALS, given) ? MATERIALS[given] : undefined;
  if (known !== undefined) return known;
  const names = Object.keys(MATERIALS).join(", ");
  throw new JobError(path, `found "${given}"; expected one of ${names}, or { "name", "alpha" in 1e-6 per °C }`);
}

function writeMaterial({ id, alpha, alphaHalfWidth, source }: Material): GivenMaterial {
  return Object.hasOwn(MATERIALS, id) ? id : { name: id, alpha, alphaHalfWidth, source };
}

/**
 * Reads a job file's JSON: checks it, fills in the defaults, turns lengths into nanometres.
 * @throws JobError with the path of the field, what was found and what was expected.
 */
export function parseJob(json: unknown): Job {
  const file = parseShape(json);
  const layout = layoutOf(file);
  const walk = walkOf(layout, file.walk);
  const style = file.lifter?.style ?? "flat";
  const stations = file.stations ?? DEFAULT_STATIONS;
  for (const [index, place] of stations.entries()) {
    if (stations.findIndex((other) => other.height === place.height && other.clock === place.clock) !== index) {
      throw new JobError(`stations[${index}]`, `${place.height} ${place.clock} is there twice`);
    }
  }
  const lifters = lifterNotesOf(file.lifters ?? {}, layout);
  const budget = file.budget ?? {};
  const budgetLength = (name: "indicator" | "transfer" | "micrometer" | "centring", otherwise: Nm): Nm => {
    const given = budget[name];
    if (given === undefined) return otherwise;
    const value = parseLength(given);
    if (value < 0 || value > 1_000_000) {
      throw new JobError(`budget.${name}`, `found "${given}"; expected 0 to 1 mm`);
    }
    return value;
  };
  return {
    title: file.title ?? "",
    block: file.block ?? "",
    operator: file.operator ?? "",
    layout,
    walk,
    walkKind: typeof file.walk === "object" ? "own" : (file.walk ?? "bank"),
    stations: stations.map((place) => ({ height: place.height, clock: place.clock })),
    lifter: { style, nominalNm: positive("lifter.nominal", file.lifter?.nominal ?? "0.8420 in", 200_000_000) },
    limits: limitsOf(file, style),
    materials: {
      block: materialOf("materials.block", file.materials?.block ?? "grey-iron"),
      lifter: materialOf("materials.lifter", file.materials?.lifter ?? "steel"),
    },
    rule: file.rule ?? "guarded",
    sweepsPerStation: file.sweepsPerStation ?? 3,
    agreementNm: positive("agreement", file.agreement ?? "0.0001 in", 1_000_000),
    returnCheckEvery: file.returnCheckEvery ?? 8,
    zeroHoldNm: positive("zeroHold", file.zeroHold ?? "0.0001 in", 1_000_000),
    pressesPerLifter: file.pressesPerLifter ?? 1,
    budget: {
      indicatorNm: budgetLength("indicator", BUDGET_DEFAULTS.indicatorNm),
      transferNm: budgetLength("transfer", BUDGET_DEFAULTS.transferNm),
      micrometerNm: budgetLength("micrometer", BUDGET_DEFAULTS.micrometerNm),
      centringNm: budgetLength("centring", BUDGET_DEFAULTS.centringNm),
      temperatureHalfWidthC: budget.temperatureHalfWidthC ?? BUDGET_DEFAULTS.temperatureHalfWidthC,
      thermometerHalfWidthC: budget.thermometerHalfWidthC ?? BUDGET_DEFAULTS.thermometerHalfWidthC,
    },
    gauges: gaugesOf(file),
    lifters,
  };
}

/** Writes a length so that it is read back exactly, in inches where they are exact to 0.1 µin, else in millimetres. */
function writeLength(length: Nm): string {
  const inches = formatLength(length, "in", 7).replace(/0{1,3}$/, "");
  return parseLength(`${inches} in`) === length ? `${inches} in` : `${formatLength(length, "mm", 6)} mm`;
}

function writeNotes(notes: Job["lifters"]): NonNullable<JobFile["lifters"]> {
  const written = Object.entries(notes).map(([name, { keptFrom, ...note }]) => [
    name,
    { ...note, ...(keptFrom === undefined ? {} : { keptFrom: [...keptFrom] }) },
  ]);
  return Object.fromEntries(written);
}

/**
 * A checked job as a file with every default written out, as it stands in a session's header: read by `parseJob`, it
 * gives the same job even after the shipped defaults have changed.
 */
export function jobFileOf(job: Job, layout: string | Record<string, unknown>): JobFile {
  const { limits } = job;
  return {
    format: "borewright/job",
    version: 1,
    title: job.title,
    block: job.block,
    operator: job.operator,
    layout,
    walk: job.walkKind === "own" ? [...job.walk] : job.walkKind,
    stations: job.stations.map((place) => ({ ...place })),
    lifter: { style: job.lifter.style, nominal: writeLength(job.lifter.nominalNm) },
    limits: {
      low: writeLength(limits.lowNm),
      high: writeLength(limits.highNm),
      ...(limits.preferredLowNm === null ? {} : { preferredLow: writeLength(limits.preferredLowNm) }),
      ...(limits.preferredHighNm === null ? {} : { preferredHigh: writeLength(limits.preferredHighNm) }),
      ...(limits.serviceHighNm === null ? {} : { serviceHigh: writeLength(limits.serviceHighNm) }),
      source: limits.source,
    },
    materials: { block: writeMaterial(job.materials.block), lifter: writeMaterial(job.materials.lifter) },
    rule: job.rule,
    sweepsPerStation: job.sweepsPerStation,
    agreement: writeLength(job.agreementNm),
    returnCheckEvery: job.returnCheckEvery,
    zeroHold: writeLength(job.zeroHoldNm),
    pressesPerLifter: job.pressesPerLifter,
    budget: {
      indicator: writeLength(job.budget.indicatorNm),
      transfer: writeLength(job.budget.transferNm),
      micrometer: writeLength(job.budget.micrometerNm),
      centring: writeLength(job.budget.centringNm),
      temperatureHalfWidthC: job.budget.temperatureHalfWidthC,
      thermometerHalfWidthC: job.budget.thermometerHalfWidthC ?? BUDGET_DEFAULTS.thermometerHalfWidthC,
    },
    gauges: job.gauges.map((entry) => ({
      id: entry.id,
      role: entry.role,
      sends: entry.sends,
      unit: entry.unit,
      resolution: writeLength(entry.resolutionNm),
      polarity: entry.polarity === 1 ? ("+" as const) : ("-" as const),
      line: entry.line,
      ...(entry.request === undefined ? {} : { request: entry.request }),
      ...(entry.source === undefined ? {} : { source: entry.source }),
      ...(entry.serial === undefined ? {} : { serial: entry.serial }),
    })),
    ...(Object.keys(job.lifters).length === 0 ? {} : { lifters: writeNotes(job.lifters) }),
  };
}

/** `jobFileOf` straight from a job file's JSON. @throws JobError as `parseJob` does. */
export function jobFileWithDefaults(json: unknown): JobFile {
  const job = parseJob(json);
  const layout = (json as { layout?: string | Record<string, unknown> }).layout ?? job.layout.id;
  return jobFileOf(job, layout);
}
