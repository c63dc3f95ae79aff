import { readFile } from "node:fs/promises";
import type { MethodInput, MethodOutput, methods } from "../../core/bridge/messages.ts";
import type { Nm } from "../../core/length/nm.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { PairingError } from "../../core/pairing/pairingError.ts";
import { ComparisonError, compareSessions } from "../../core/report/comparisonReport.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { PlanningError } from "../../core/report/planningAssumptions.ts";
import { planningReport } from "../../core/report/planningReport.ts";
import { remedySessionByStep } from "../../core/report/remedyReport.ts";
import type { Result } from "../../core/report/result.ts";
import { resultUnder, underWhatIf, type WhatIf, WhatIfError } from "../../core/report/whatIf.ts";
import { type Job, type LifterNote, lifterNames } from "../../core/session/job.ts";
import { type ReadSession, type Recording, SessionError } from "../../core/session/recording.ts";
import type { z } from "../../core/zod.ts";
import { Refusal } from "./refusal.ts";
import { inSlices, readSessionInSlices } from "./sessionFile.ts";

type Asked<M extends "session.whatIf" | "session.pairing" | "session.remedy" | "session.planning" | "session.compare"> =
  z.output<(typeof methods)[M]["in"]>;

/** The result as it would be; the record stays as it is. @throws Refusal for a what-if that makes no sense. */
export function answerWhatIf(
  recording: Recording,
  seal: Result["seal"],
  { whatIf }: Asked<"session.whatIf">,
): MethodOutput<"session.whatIf"> {
  return { result: resultUnder(recording, seal, { input: tried(recording, whatIf) }) };
}

/** Which lifter goes where. @throws Refusal where there is no pairing, or for nonsense; JobError for the notes. */
export function answerPairing(
  recording: Recording,
  { whatIf, notes }: Asked<"session.pairing">,
): MethodOutput<"session.pairing"> {
  const input = whatIf === undefined ? {} : { input: tried(recording, whatIf) };
  try {
    return { pairing: pairSession(recording, { notes: notesFor(recording.job, notes), ...input }) };
  } catch (error) {
    if (error instanceof PairingError) throw new Refusal(`pairing-${error.trouble}`, error.message);
    throw error;
  }
}

/** What to do with each bore. @throws Refusal for nonsense; JobError for the notes. */
export async function answerRemedy(
  recording: Recording,
  { whatIf, notes, lifter }: Asked<"session.remedy">,
): Promise<MethodOutput<"session.remedy">> {
  const wish = {
    notes: notesFor(recording.job, notes),
    ...(whatIf === undefined ? {} : { input: tried(recording, whatIf) }),
    ...(lifter === undefined ? {} : { lifterNm: bodyOf(recording.job, lifter) }),
  };
  // A walk may go on in this program meanwhile; its gauges are heard in between.
  return { remedy: await inSlices(remedySessionByStep(recording, wish)) };
}

/** Estimates for planning. @throws Refusal for a what-if or an assumption that makes no sense. */
export function answerPlanning(
  recording: Recording,
  { whatIf, assumptions }: Asked<"session.planning">,
): MethodOutput<"session.planning"> {
  const input = whatIf === undefined ? {} : { input: tried(recording, whatIf) };
  try {
    return { planning: planningReport(recording, { assumptions, ...input }) };
  } catch (error) {
    if (error instanceof PlanningError) throw new Refusal("planning", `${error.message}.`);
    throw error;
  }
}

/**
 * The open session laid over an earlier one of the folder. The earlier one is only read.
 * @throws Refusal for one that is not there or can not be read, and where the two can not be compared.
 */
export async function answerCompare(
  later: { readonly id: string; readonly created: string; readonly recording: Recording },
  pathOf: (id: string) => string,
  { earlier, newLifters }: Asked<"session.compare">,
): Promise<MethodOutput<"session.compare">> {
  if (earlier === later.id) {
    throw new Refusal("compare", `"${earlier}" is the session that is open; expected one from before the work.`);
  }
  const read = await readEarlier(earlier, pathOf(earlier));
  try {
    const after = { header: { created: later.created }, recording: later.recording };
    return { comparison: compareSessions(read, after, { newLifters }) };
  } catch (error) {
    if (error instanceof ComparisonError) throw new Refusal("compare", error.message);
    throw error;
  }
}

async function readEarlier(id: string, path: string): Promise<ReadSession> {
  try {
    return await readSessionInSlices(await readFile(path));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") {
      throw new Refusal("no-such-session", `There is no session "${id}" any more.`);
    }
    if (error instanceof SessionError) {
      throw new Refusal("session", `"${id}" can not be read: line ${error.line}: ${error.message}.`);
    }
    throw error;
  }
}

function tried(recording: Recording, whatIf: WhatIf) {
  try {
    return underWhatIf(recording, whatIf);
  } catch (error) {
    if (error instanceof WhatIfError) throw new Refusal("what-if", `${error.message}.`);
    throw error;
  }
}

type GivenNotes = Exclude<MethodInput<"session.pairing">["notes"], undefined>;

/** Notes as given for single lifters; a spare one stays a spare one, and none is made up that the job does not know. */
function notesFor(job: Job, given: GivenNotes): Readonly<Record<string, LifterNote>> {
  const known = new Set([...lifterNames(job), ...job.layout.bores.map(({ name }) => name)]);
  return Object.fromEntries(
    Object.entries(given).map(([name, note]) => {
      if (!known.has(name)) {
        const expected = lifterNames(job).join(", ");
        throw new Refusal(
          "notes",
          `notes.${name}: the session has no lifter "${name}"; expected one of ${expected}. A spare lifter is named in the job and measured with the others.`,
        );
      }
      const said = Object.entries(note).filter(([, value]) => value !== undefined);
      return [name, { ...Object.fromEntries(said), ...(job.lifters[name]?.spare === true ? { spare: true } : {}) }];
    }),
  );
}

/** No lifter body is larger than this many nominal ones. Our choice. */
const LARGEST_TIMES = 2;

function bodyOf({ lifter }: Job, text: string): Nm {
  let bodyNm: Nm;
  try {
    bodyNm = parseLength(text);
  } catch (error) {
    if (error instanceof LengthError) throw new Refusal("lifter", `lifter: ${error.message}.`);
    throw error;
  }
  if (bodyNm * LARGEST_TIMES >= lifter.nominalNm && bodyNm <= lifter.nominalNm * LARGEST_TIMES) return bodyNm;
  throw new Refusal(
    "lifter",
    `lifter: found "${text}"; expected the diameter of a lifter body, half to twice the job's.`,
  );
}
