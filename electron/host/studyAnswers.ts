import type { MethodOutput } from "../../core/bridge/messages.ts";
import { StudyError } from "../../core/fit/gaugeStudy.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { sessionStudy } from "../../core/report/sessionStudy.ts";
import { parseStudyFile, StudyFileError } from "../../core/report/studyFile.ts";
import { studyReport } from "../../core/report/studyReport.ts";
import type { Recording } from "../../core/session/recording.ts";
import { Refusal } from "./refusal.ts";

/** What a session says of its gauge, for the page. */
export function answerSession(recording: Recording): MethodOutput<"session.study"> {
  const { report, table, due } = sessionStudy(recording.run);
  if (table === null) return { report, table, due };
  const { people, bores, repeats, cells } = table;
  const readings = cells.map(({ person, bore, valuesNm }) => ({ person, bore, valuesNm: [...valuesNm] }));
  return { report, table: { people: [...people], bores: [...bores], repeats, readings }, due };
}

/** A study from the text of its file. @throws Refusal naming the place in the file and what was expected. */
export function answerFile(content: string, band: string | undefined): MethodOutput<"study.read"> {
  try {
    const table = parseStudyFile(jsonOf(content));
    return { report: studyReport(table, band === undefined ? {} : { bandNm: bandOf(band) }) };
  } catch (error) {
    if (error instanceof StudyFileError || error instanceof StudyError) throw new Refusal("study", error.message);
    throw error;
  }
}

function jsonOf(content: string): unknown {
  try {
    return JSON.parse(content);
  } catch (error) {
    const says = error instanceof Error ? error.message : String(error);
    throw new Refusal("study", `The file is not JSON (${says.slice(0, 120)}); expected a gauge study.`);
  }
}

function bandOf(text: string): number {
  try {
    const bandNm = parseLength(text);
    if (bandNm > 0) return bandNm;
  } catch (error) {
    if (!(error instanceof LengthError)) throw error;
    throw new Refusal("study", `Band: ${error.message}`);
  }
  throw new Refusal("study", `Band: found "${text}"; expected a length above zero.`);
}
