import { readFile } from "node:fs/promises";
import type { Limits } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import type { StudyTable } from "../../core/report/studyTable.ts";
import type { Job } from "../../core/session/job.ts";
import { JobError } from "../../core/session/jobError.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { WrongUse } from "./io.ts";
import { lineOf, locateInJson } from "./locateInJson.ts";

/** Reads a file's bytes. @throws WrongUse naming what it was wanted for. */
export async function readBytes(what: string, path: string): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch (error) {
    throw new WrongUse(`${what} ${path}: ${fileTrouble(error)}`);
  }
}

/** What a file system's error means, in a few words. */
export function fileTrouble(error: unknown): string {
  switch ((error as NodeJS.ErrnoException).code) {
    case "ENOENT":
      return "there is no such file or folder";
    case "EISDIR":
      return "it is a folder; expected a file";
    case "ENOTDIR":
      return "a part of its path is a file; expected a folder";
    case "EACCES":
    case "EPERM":
      return "it may not be used by this user";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}

/** A text file read as UTF-8, a leading byte order mark dropped. @throws WrongUse where it is not UTF-8. */
export async function readText(what: string, path: string): Promise<string> {
  const bytes = await readBytes(what, path);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new WrongUse(`${what} ${path}: not UTF-8 text; expected JSON in UTF-8`);
  }
}

/** Reads a job file: its JSON and the job it states. @throws WrongUse with file, line, path and what was expected. */
export async function readJobFile(path: string): Promise<{ readonly json: unknown; readonly job: Job }> {
  const text = await readText("job", path);
  const json = parseJson("job", path, text);
  try {
    return { json, job: parseJob(json) };
  } catch (error) {
    if (error instanceof JobError)
      throw new WrongUse(`job ${path}:${locateInJson(text, error.path)}: ${error.message}`);
    throw error;
  }
}

/**
 * Limits as `recheck` takes them: the name of shipped ones, or a file that holds a job's `limits` (or a whole job).
 * @throws WrongUse as for a job file.
 */
export async function readLimits(given: string): Promise<Limits> {
  if (given === "flat" || given === "roller") return SHIPPED_LIMITS[given];
  const text = await readText("limits", given);
  const json = parseJson("limits", given, text);
  const isJob = typeof json === "object" && json !== null && "format" in json;
  try {
    return parseJob(isJob ? json : { format: "borewright/job", version: 1, limits: json }).limits;
  } catch (error) {
    if (!(error instanceof JobError)) throw error;
    const path = isJob ? error.path : error.path.replace(/^limits\.?/, "");
    throw new WrongUse(`limits ${given}:${locateInJson(text, path)}: ${error.message}`);
  }
}

/** Reads a gauge study's file. @throws WrongUse with file, line, path and what was expected. */
export async function readStudyFile(path: string): Promise<StudyTable> {
  const text = await readText("study", path);
  const json = parseJson("study", path, text);
  try {
    return parseStudyFile(json);
  } catch (error) {
    if (!(error instanceof StudyFileError)) throw error;
    throw new WrongUse(`study ${path}:${locateInJson(text, error.path)}: ${error.message}`);
  }
}

function parseJson(what: string, path: string, text: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const says = error instanceof Error ? error.message : String(error);
    const at = /at position (\d+)/.exec(says)?.[1];
    const line = at === undefined ? lineOf(text, text.length) : lineOf(text, Number(at));
    throw new WrongUse(
      `${what} ${path}:${line}: not JSON (${says.replace(/\s+/g, " ").slice(0, 120)}); expected a JSON object`,
    );
  }
}
