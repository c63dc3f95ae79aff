import { findBores } from "../fit/findBores.ts";
import type { FitInput, Limits, Rule, Temperatures } from "../fit/finding.ts";
import { SHIPPED_LIMITS } from "../fit/limitsDefaults.ts";
import { lifterSetAt } from "../fit/stationFit.ts";
import { formatLength } from "../length/formatLength.ts";
import { type Nm, toNm } from "../length/nm.ts";
import { LengthError, parseLength } from "../length/parseLength.ts";
import { type Job, lifterNames } from "../session/job.ts";
import { JobError } from "../session/jobError.ts";
import { parseJob } from "../session/jobFile.ts";
import type { Recording } from "../session/recording.ts";
import { zeroAt } from "../zero/zeroAt.ts";
import { type Result, resultOf } from "./result.ts";

/** What may be different from the session, for a look that leaves the record untouched; a part left out stays as it is. */
export interface WhatIf {
  readonly limits?:
    | "job"
    | "flat"
    | "roller"
    | {
        readonly low: string;
        readonly high: string;
        readonly preferredLow?: string | undefined;
        readonly preferredHigh?: string | undefined;
      }
    | undefined;
  readonly rule?: "job" | Rule | undefined;
  /** Diameters with their unit of single lifters, by name: another lifter in that one's place. Comes before `everyLifter`. */
  readonly lifters?: Readonly<Record<string, string>> | undefined;
  /** One diameter with its unit for every lifter, as of a new set. */
  readonly everyLifter?: string | undefined;
  /** Temperatures during the whole work, °C. */
  readonly blockC?: number | undefined;
  readonly lifterC?: number | undefined;
}

/** Thrown for a what-if that makes no sense: `path` says where, the message what was found and what was expected. */
export class WhatIfError extends Error {
  override readonly name = "WhatIfError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(`${path}: ${message}`);
    this.path = path;
  }
}

/** Temperatures at which someone may work on a block, °C, both included; those that the session's events allow. */
const COLDEST_C = -40;
const HOTTEST_C = 150;

/** A diameter outside this many times the nominal one, either way, is a slip of the pen. Our choice. */
const FAR_TIMES = 2;

/**
 * What the findings of a recording are computed from, altered by a what-if. The record itself stays untouched.
 *
 * Lifters of other diameters are other lifters in the places of those measured: the micrometer was set to the one that
 * was there, and a bore is as large as the gauge found it against that one. So a lifter that the micrometer was set to
 * stays the reference under its measured diameter, and the new one in its place counts as another lifter does, with the
 * micrometer twice. A lifter that was not measured and is given a diameter is taken to have had it.
 * @throws WhatIfError for lengths, limits, lifters or temperatures that make no sense.
 */
export function underWhatIf(recording: Recording, whatIf: WhatIf): FitInput {
  const { job } = recording;
  const input = recording.run.fitInput();
  const limits = limitsUnder(job, whatIf.limits);
  const { rule } = whatIf;
  return {
    ...input,
    ...(limits === null ? {} : { limits }),
    ...(rule === undefined || rule === "job" ? {} : { rule }),
    ...liftersUnder(job, input, whatIf),
    temperatures: temperaturesUnder(input.temperatures, whatIf),
  };
}

/**
 * The result of a recording under other limits, another rule, or altogether another input (`underWhatIf`), the record
 * itself untouched. A part left out stays the job's. Where lifters have other diameters than were measured, the result
 * lists those, with no readings.
 */
export function resultUnder(
  recording: Recording,
  seal: Result["seal"],
  other: {
    readonly input?: FitInput;
    readonly limits?: Limits;
    readonly rule?: Rule;
    readonly differences?: readonly string[];
  },
): Result {
  const input = other.input ?? recording.run.fitInput();
  const limits = other.limits ?? input.limits;
  const rule = other.rule ?? input.rule;
  const findings = findBores({ ...input, limits, rule });
  const differences = other.differences ?? [];
  const result = resultOf(recording, seal, { findings, limits: { ...limits }, rule, differences });
  return other.input === undefined ? result : { ...result, lifters: liftersShown(recording.job, input, result) };
}

function limitsUnder(job: Job, given: WhatIf["limits"]): Limits | null {
  if (given === undefined || given === "job") return null;
  if (typeof given === "string") return SHIPPED_LIMITS[given];
  const { low, high, preferredLow, preferredHigh } = given;
  const limits = {
    low,
    high,
    ...(preferredLow === undefined ? {} : { preferredLow }),
    ...(preferredHigh === undefined ? {} : { preferredHigh }),
    source: "tried out, not the job's",
  };
  try {
    // The wear limit is the block's, whatever a new fit is allowed; below the limit tried it says nothing.
    const { serviceHighNm } = job.limits;
    const parsed = parseJob({ format: "borewright/job", version: 1, limits }).limits;
    return serviceHighNm === null || serviceHighNm < parsed.highNm ? parsed : { ...parsed, serviceHighNm };
  } catch (error) {
    if (!(error instanceof JobError)) throw error;
    throw new WhatIfError(error.path, error.message.slice(error.path.length + 2));
  }
}

/** A lifter that the micrometer was set to, where another stands in its place. */
const asSet = (name: string) => `${name} as the micrometer was set`;

function liftersUnder(job: Job, input: FitInput, whatIf: WhatIf): Pick<FitInput, "lifters" | "references"> {
  const { lifters: measured, references } = input;
  const tried = triedDiameters(job, input, whatIf);
  if (tried.size === 0) return { lifters: measured, references };
  requireKnownReferences(input, tried, whatIf);
  const lifters = new Map(measured);
  for (const [name, diameterNm] of tried) lifters.set(name, diameterNm);
  const replaced = (name: string | null): name is string =>
    name !== null && tried.has(name) && measured.has(name) && measured.get(name) !== tried.get(name);
  for (const { lifter } of references) {
    if (replaced(lifter)) lifters.set(asSet(lifter), measured.get(lifter) as Nm);
  }
  return {
    lifters,
    references: references.map((reference) =>
      replaced(reference.lifter) ? { ...reference, lifter: asSet(reference.lifter) } : reference,
    ),
  };
}

/** Diameters that stand in for measured ones, by lifter. */
function triedDiameters(job: Job, { lifters: measured }: FitInput, whatIf: WhatIf): ReadonlyMap<string, Nm> {
  const names = lifterNames(job);
  const tried = new Map<string, Nm>();
  if (whatIf.everyLifter !== undefined) {
    const diameterNm = diameterOf(job, "everyLifter", whatIf.everyLifter);
    // A new set has a lifter for every bore; spare ones there were none of stay none.
    for (const name of names) if (job.lifters[name]?.spare !== true || measured.has(name)) tried.set(name, diameterNm);
  }
  for (const [name, text] of Object.entries(whatIf.lifters ?? {})) {
    const path = `lifters.${name}`;
    if (!names.includes(name)) {
      throw new WhatIfError(path, `the job has no lifter "${name}"; expected one of ${names.join(", ")}`);
    }
    tried.set(name, diameterOf(job, path, text));
  }
  return tried;
}

function diameterOf(job: Job, path: string, text: string): Nm {
  const { nominalNm } = job.lifter;
  const diameterNm = lengthOf(path, text);
  if (diameterNm * FAR_TIMES >= nominalNm && diameterNm <= nominalNm * FAR_TIMES) return diameterNm;
  const millimetres = (nm: number) => `${formatLength(toNm(nm), "mm", 3)} mm`;
  throw new WhatIfError(
    path,
    `found "${text}"; expected a lifter's diameter between ${millimetres(nominalNm / FAR_TIMES)} and ${millimetres(nominalNm * FAR_TIMES)}, about the job's nominal ${millimetres(nominalNm)}`,
  );
}

function lengthOf(path: string, text: string): Nm {
  try {
    return parseLength(text);
  } catch (error) {
    if (error instanceof LengthError) throw new WhatIfError(path, error.message);
    throw error;
  }
}

/** Lifters of a given size can be compared with a bore only where it is known how large the one was that it was measured by. */
function requireKnownReferences(input: FitInput, tried: ReadonlyMap<string, Nm>, whatIf: WhatIf): void {
  for (const { bore, tMs } of input.stations) {
    const { state } = zeroAt(input.references, tMs);
    if (state === "none" || state === "moved") continue;
    const lifter = lifterSetAt(input, tMs);
    if (lifter !== null && (input.lifters.has(lifter) || whatIf.lifters?.[lifter] !== undefined)) continue;
    const path = whatIf.everyLifter === undefined ? `lifters.${[...tried.keys()][0] ?? ""}` : "everyLifter";
    const unknown =
      lifter === null
        ? `the zero of bore ${bore} does not name the lifter that the micrometer was set to`
        : `the micrometer was set to lifter ${lifter} for bore ${bore}, and that lifter was not measured`;
    const or = lifter === null ? "" : ` or given as lifters.${lifter}`;
    throw new WhatIfError(
      path,
      `lifters of another size can not be tried, because ${unknown}; expected its diameter, measured in the session${or}`,
    );
  }
}

function temperaturesUnder(recorded: readonly Temperatures[], { blockC, lifterC }: WhatIf): readonly Temperatures[] {
  const given = { blockC: celsiusOf("blockC", blockC), lifterC: celsiusOf("lifterC", lifterC) };
  if (given.blockC === null && given.lifterC === null) return recorded;
  const others = recorded.map((record) => ({
    tMs: record.tMs,
    blockC: given.blockC === null ? record.blockC : null,
    lifterC: given.lifterC === null ? record.lifterC : null,
  }));
  return [{ tMs: 0, ...given }, ...others];
}

function celsiusOf(path: string, celsius: number | undefined): number | null {
  if (celsius === undefined) return null;
  if (celsius >= COLDEST_C && celsius <= HOTTEST_C) return celsius;
  throw new WhatIfError(path, `found ${celsius} °C; expected ${COLDEST_C} to ${HOTTEST_C} °C`);
}

function liftersShown(job: Job, input: FitInput, { lifters }: Result): Result["lifters"] {
  return lifterNames(job).flatMap((name) => {
    const diameterNm = input.lifters.get(name);
    if (diameterNm === undefined) return [];
    const read = lifters.find((lifter) => lifter.name === name);
    return [read?.diameterNm === diameterNm ? read : { name, diameterNm: diameterNm as number, readings: 0 }];
  });
}
