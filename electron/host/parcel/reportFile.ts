import { reportOf } from "../../../core/report/reportOf.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import type { Findings } from "./findings.ts";

/**
 * `report.html` of a parcel: the printable report, one self-contained page that loads nothing. Dates stand as they do
 * without a locale and a time zone, so that it is the same bytes for the same record; on opening it is made again and
 * compared like every other file.
 */
export function reportFile(read: ReadSession, { pairing, remedy }: Findings): string {
  return reportOf(read, {
    ...(pairing === null ? {} : { pairing }),
    ...(remedy === null ? {} : { remedy }),
  });
}
