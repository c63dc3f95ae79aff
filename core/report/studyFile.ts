import type { Nm } from "../length/nm.ts";
import { LengthError, parseLength } from "../length/parseLength.ts";
import { errorText, expectedText, shownValue } from "../length/shownText.ts";
import { z } from "../zod.ts";
import type { StudyTable } from "./studyTable.ts";

/** Thrown for a study file that makes no sense: `path` says where, the message what was found and what was expected. */
export class StudyFileError extends Error {
  override readonly name = "StudyFileError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(errorText(path === "" ? message : `${errorText(path)}: ${message}`));
    this.path = path;
  }
}

const name = z.string().min(1).max(40);
const readings = { person: name, bore: name };
const MOST_REPEATS = 50;

/** A study as a person writes it down: every person measured every bore the same number of times, two or more. */
export const studyFileSchema = z.strictObject({
  format: z.literal("borewright/study"),
  version: z.literal(1),
  title: z.string().max(200).optional(),
  source: z.string().max(400).optional().describe("where the readings come from"),
  band: z.string().optional().describe('width of the allowed band, with its unit, such as "0.0006 in"'),
  bandNm: z.number().int().positive().optional().describe("the same in whole nanometres"),
  people: z.array(name).min(1).max(20),
  bores: z.array(name).min(2).max(64),
  readings: z
    .array(
      z.union([
        z.strictObject({
          ...readings,
          values: z.array(z.string()).min(2).max(MOST_REPEATS).describe('lengths with their unit, such as "1.34 um"'),
        }),
        z.strictObject({
          ...readings,
          valuesNm: z.array(z.number().int()).min(2).max(MOST_REPEATS).describe("lengths in whole nanometres"),
        }),
      ]),
    )
    .min(2)
    .max(1280),
});

/**
 * Reads a study file.
 * @throws StudyFileError with the path in the file and what was expected.
 */
export function parseStudyFile(json: unknown): StudyTable {
  const file = shapeOf(json);
  notTwice("people", file.people);
  notTwice("bores", file.bores);
  const [first] = file.readings;
  const repeats = first === undefined ? 0 : countOf(first);
  const cells = file.readings.map((cell, index) => {
    const path = `readings[${index}]`;
    known(`${path}.person`, cell.person, file.people, "people");
    known(`${path}.bore`, cell.bore, file.bores, "bores");
    const before = file.readings.findIndex((other) => other.person === cell.person && other.bore === cell.bore);
    if (before !== index) {
      throw new StudyFileError(
        path,
        `${cell.person} measured ${cell.bore} in readings[${before}] already; expected one list for each person and bore`,
      );
    }
    if (countOf(cell) !== repeats) {
      throw new StudyFileError(
        `${path}.${"values" in cell ? "values" : "valuesNm"}`,
        `found ${countOf(cell)} readings, in readings[0] ${repeats}; expected the same number everywhere`,
      );
    }
    const valuesNm =
      "values" in cell
        ? cell.values.map((value, at) => lengthAt(`${path}.values[${at}]`, value))
        : (cell.valuesNm as Nm[]);
    return { person: cell.person, bore: cell.bore, valuesNm };
  });
  for (const person of file.people) {
    for (const bore of file.bores) {
      if (cells.some((cell) => cell.person === person && cell.bore === bore)) continue;
      throw new StudyFileError("readings", `none of ${bore} by ${person}; expected every bore by every person`);
    }
  }
  return {
    title: file.title ?? "",
    source: file.source ?? "",
    people: file.people,
    bores: file.bores,
    repeats,
    bandNm: bandOf(file),
    cells,
  };
}

type StudyFile = z.infer<typeof studyFileSchema>;
type Cell = StudyFile["readings"][number];

const countOf = (cell: Cell) => ("values" in cell ? cell.values.length : cell.valuesNm.length);

function bandOf(file: StudyFile): Nm | null {
  if (file.band !== undefined && file.bandNm !== undefined) {
    throw new StudyFileError("bandNm", "the band is there twice; expected band or bandNm");
  }
  if (file.band === undefined) return file.bandNm === undefined ? null : (file.bandNm as Nm);
  const bandNm = lengthAt("band", file.band);
  if (bandNm <= 0) throw new StudyFileError("band", `found "${file.band}"; expected a length above zero`);
  return bandNm;
}

function lengthAt(path: string, text: string): Nm {
  try {
    return parseLength(text);
  } catch (error) {
    if (error instanceof LengthError) throw new StudyFileError(path, error.message);
    throw error;
  }
}

function notTwice(path: string, names: readonly string[]): void {
  for (const [index, one] of names.entries()) {
    if (names.indexOf(one) === index) continue;
    throw new StudyFileError(`${path}[${index}]`, `"${one}" is there twice; expected each once`);
  }
}

function known(path: string, found: string, names: readonly string[], of: string): void {
  if (names.includes(found)) return;
  throw new StudyFileError(path, `found "${found}"; expected one of ${of}: ${names.join(", ")}`);
}

function shapeOf(json: unknown): StudyFile {
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    throw new StudyFileError("", 'expected an object with "format": "borewright/study"');
  }
  const parsed = studyFileSchema.safeParse(json);
  if (parsed.success) return parsed.data;
  let issue = parsed.error.issues[0];
  // Of the two ways to write readings, the one meant is the one whose field is there.
  while (issue?.code === "invalid_union") {
    const cell = valueAt(json, issue.path);
    const inNm = typeof cell === "object" && cell !== null && "valuesNm" in cell;
    const inner = issue.errors[inNm ? 1 : 0]?.[0];
    if (inner === undefined) break;
    issue = { ...inner, path: [...issue.path, ...inner.path] };
  }
  if (issue === undefined) throw new StudyFileError("", "not a study");
  if (issue.code === "unrecognized_keys") {
    throw new StudyFileError(printPath([...issue.path, issue.keys[0] ?? ""]), "unknown field");
  }
  const found = valueAt(json, issue.path);
  throw new StudyFileError(printPath(issue.path), `found ${shownValue(found)}; ${expectedText(issue.message)}`);
}

function valueAt(json: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((value, key) => (value as Record<PropertyKey, unknown> | undefined)?.[key], json);
}

/** Prints a path as `readings[0].person`. */
function printPath(path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, key) => (typeof key === "number" ? `${text}[${key}]` : text === "" ? String(key) : `${text}.${String(key)}`),
    "",
  );
}
