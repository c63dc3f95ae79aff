import type { SessionRun } from "../session/sessionRun.ts";
import { STUDY_CONFIDENCE, type StudyReport, studyReport, walkReport } from "./studyReport.ts";
import { studyTableOf } from "./studySession.ts";
import type { StudyTable } from "./studyTable.ts";
import { walkRepeatability } from "./walkRepeatability.ts";

/** What a session says of its gauge. */
export interface SessionStudy {
  /** `study` is null for an ordinary walk, and while readings are missing. */
  readonly report: StudyReport;
  /** The readings so far; null for an ordinary walk. */
  readonly table: StudyTable | null;
  /** Readings still missing, or whose zero moved; 0 for an ordinary walk. */
  readonly due: number;
}

/** The study of a session by the job's band, or by another width `bandNm` (nm, above 0). */
export function sessionStudy(run: SessionRun, bandNm?: number): SessionStudy {
  const { title, limits } = run.job;
  const { sends, stations, references } = run.fitInput();
  const band = bandNm ?? limits.highNm - limits.lowNm;
  const table = studyTableOf(run);
  const severalPeople = (table?.people.length ?? 1) > 1;
  const walk = walkRepeatability({ sends, stations, references, severalPeople }, STUDY_CONFIDENCE);
  const due = (table?.cells ?? []).reduce((sum, { valuesNm }) => sum + (table?.repeats ?? 0) - valuesNm.length, 0);
  const report = table === null || due > 0 ? walkReport(title, band, walk) : studyReport(table, { bandNm: band, walk });
  return { report, table, due };
}
