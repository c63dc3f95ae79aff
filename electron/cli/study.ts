import { StudyError } from "../../core/fit/gaugeStudy.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { sessionStudy } from "../../core/report/sessionStudy.ts";
import {
  type ReportedComponent,
  type StudyMethod,
  type StudyReport,
  studyReport,
} from "../../core/report/studyReport.ts";
import type { PooledSweeps } from "../../core/report/walkRepeatability.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { readJobFile, readStudyFile } from "./readFiles.ts";
import { readSessionFile } from "./recheck.ts";

export const STUDY_HELP = `borewright study FILE [--band LENGTH | --job FILE] [--json]
borewright study --session SESSION [--band LENGTH | --job FILE] [--json]

How far a gauge repeats, and how far people agree on it. FILE is a gauge study
(*.study.json): every person measured every bore equally often. Both methods
stand side by side: analysis of variance, and average and range. They differ on
the same readings; the number of distinct categories is given for each.
  --session  a walk instead: the repeatability of its sweeps, pooled; and the
             whole study if the session was recorded as one
  --band     width of the allowed band, such as "0.0006 in" or "15 um"
  --job      take the band from this job's limits
  --json     print the result as one JSON object
Exit status: 0 done, 3 a session recorded as a study is not complete yet,
5 a seal of the session is broken.
`;

/** `borewright study`. */
export async function study(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions("study", args, { band: "text", job: "text", session: "text", json: "flag" }, 1);
  if (values.session !== undefined && files[0] !== undefined) {
    throw new WrongUse("study: found FILE and --session; expected one of them");
  }
  const bandNm = await bandOf(values.band, values.job);
  const { report, trouble, status } =
    values.session === undefined
      ? await fromFile(need("study", "FILE", files[0]), bandNm)
      : await fromSession(values.session, bandNm);
  io.out(values.json ? `${JSON.stringify(report)}\n` : printed(report));
  if (trouble !== null) io.err(`borewright study: ${trouble}\n`);
  return status;
}

async function bandOf(band: string | undefined, job: string | undefined): Promise<number | undefined> {
  if (band !== undefined && job !== undefined)
    throw new WrongUse("study: found --band and --job; expected one of them");
  if (job !== undefined) {
    const { limits } = (await readJobFile(job)).job;
    return limits.highNm - limits.lowNm;
  }
  if (band === undefined) return undefined;
  try {
    const bandNm = parseLength(band);
    if (bandNm > 0) return bandNm;
  } catch (error) {
    if (error instanceof LengthError) throw new WrongUse(`study: --band: ${error.message}`);
    throw error;
  }
  throw new WrongUse(`study: --band: found "${band}"; expected a length above zero`);
}

interface Answer {
  readonly report: StudyReport;
  readonly trouble: string | null;
  readonly status: number;
}

async function fromFile(path: string, bandNm: number | undefined): Promise<Answer> {
  const table = await readStudyFile(path);
  try {
    return { report: studyReport(table, bandNm === undefined ? {} : { bandNm }), trouble: null, status: EXIT.done };
  } catch (error) {
    if (error instanceof StudyError) throw new WrongUse(`study ${path}:1: ${error.message}`);
    throw error;
  }
}

async function fromSession(path: string, bandNm: number | undefined): Promise<Answer> {
  const { recording, broken } = await readSessionFile(path);
  const { report, due } = sessionStudy(recording.run, bandNm);
  const [seal] = broken;
  if (seal !== undefined) {
    const trouble = `session ${path}:${seal.line}: the seal is broken: ${seal.why}`;
    return { report, trouble, status: EXIT.sealBroken };
  }
  if (due === 0) return { report, trouble: null, status: EXIT.done };
  const trouble = `session ${path}: ${due} of the study's readings are missing, or their zero moved; only the repeatability of its sweeps is given`;
  return { report, trouble, status: EXIT.incomplete };
}

const micrometres = (nm: number) => formatLength(toNm(nm), "um", 3);
const percent = (share: number | null) => (share === null ? "-" : `${(100 * share).toFixed(1)} %`);
const between = (of: { readonly lowNm: number; readonly highNm: number } | null) =>
  of === null ? "-" : `${micrometres(of.lowNm)} to ${micrometres(of.highNm)}`;

/** A result as text for a person: lengths in micrometres, ending with a line end. */
function printed(report: StudyReport): string {
  const lines: string[] = [];
  if (report.title !== "") lines.push(report.title);
  if (report.source !== "") lines.push(`Source: ${report.source}`);
  const band = report.bandNm === null ? "no band given" : `band ${micrometres(report.bandNm)} um wide`;
  if (report.study !== null) {
    const { people, bores, repeats, methods } = report.study;
    lines.push(
      `${people.length} ${people.length === 1 ? "person" : "people"}, ${bores.length} bores, ${repeats} repeats; ${band}.`,
      "Standard deviations in um; share of the band is six of them over its width.",
      "Intervals hold the true deviation with 95 % confidence; averages and ranges give none.",
      ...printedMethods(methods),
      ...methods.map(
        ({ method, categories }) => `Number of distinct categories by ${method}: ${categories ?? "no scatter at all"}.`,
      ),
      methods[0].pooled
        ? "The interaction of people and bores could be chance and was taken into repeatability."
        : "People and bores interact: some people read some bores otherwise than the rest.",
      "Averages and ranges do not see the interaction, so the two methods differ.",
    );
    if (people.length === 1) lines.push("One person only: reproducibility is not seen.");
  } else {
    lines.push(`Repeatability of single sweeps from a walk alone; ${band}.`);
  }
  if (report.walk !== null) {
    lines.push(
      pooledLine("Sweeps in the bores", report.walk.bores),
      pooledLine("Sweeps in the micrometer", report.walk.zeros),
      ...report.walk.notes,
    );
  }
  return `${lines.join("\n")}\n`;
}

function pooledLine(what: string, { deviationNm, degreesOfFreedom, groups, interval }: PooledSweeps): string {
  if (degreesOfFreedom === 0) return `${what}: nothing was repeated.`;
  return `${what}: standard deviation ${micrometres(deviationNm)} um (95 % ${between(interval)}), ${degreesOfFreedom} degrees of freedom from ${groups} groups.`;
}

const ROWS = [
  ["repeatability", "repeatability"],
  ["reproducibility", "reproducibility"],
  ["  people", "people"],
  ["  interaction", "interaction"],
  ["gauge, both", "gauge"],
  ["bores", "bores"],
  ["total", "total"],
] as const;

function printedMethods([byVariance, byRange]: readonly [StudyMethod, StudyMethod]): string[] {
  const rows = ROWS.map(([title, key]) => [
    title,
    ...cells((byVariance as Partial<Record<string, unknown>>)[key] as ReportedComponent),
    ...(key in byRange ? cells(byRange[key as "gauge"]) : ["not seen", "", ""]).filter((_, column) => column !== 1),
  ]);
  const head = ["", "deviation", "interval", "of study", "of band", "deviation", "of study", "of band"];
  const all = [head, ...rows];
  const widths = head.map((_, column) => Math.max(...all.map((row) => row[column]?.length ?? 0)));
  const line = (row: readonly string[]) =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[0] ?? 0) : cell.padStart(widths[column] ?? 0)))
      .join("  ")
      .trimEnd();
  const left = widths.slice(0, 5).reduce((sum, width) => sum + width + 2, 0);
  const first = " ".repeat((widths[0] ?? 0) + 2);
  return [`${`${first}by analysis of variance`.padEnd(left)}by average and range`, ...all.map(line)];
}

function cells({ deviationNm, interval, shareOfStudy, shareOfBand }: ReportedComponent): string[] {
  return [micrometres(deviationNm), between(interval), percent(shareOfStudy), percent(shareOfBand)];
}
