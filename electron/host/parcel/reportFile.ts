import type { ReadSession } from "../../../core/session/recording.ts";
import type { Findings } from "./findings.ts";

/**
 * `report.html` of a parcel: the one place where the printable report is put in; null leaves the file out. It must be
 * one self-contained page that loads nothing, and the same bytes for the same record: no clock, no locale, no time zone.
 * On opening it is made again and compared like every other file.
 */
export function reportFile(_read: ReadSession, _findings: Findings): string | null {
  return null;
}
