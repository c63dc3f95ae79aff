import { SWEEP_VALUES } from "../../core/fit/smallestReading.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { resultBySmallestReading } from "../../core/report/smallestReadingResult.ts";
import { smallestRows } from "../../core/report/smallestRows.ts";
import { resultUnder } from "../../core/report/whatIf.ts";
import { type ReadSession, SessionError } from "../../core/session/recording.ts";
import { readSessionBytes } from "../host/sessionFile.ts";
import { tableOf } from "./account.ts";
import { aligned } from "./aligned.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { need, readOptions } from "./options.ts";
import { readBytes, readLimits } from "./readFiles.ts";

export const RECHECK_HELP = `borewright recheck SESSION [--limits FILE|flat|roller] [--rule simple|guarded]
                   [--sweep-value turning-point|smallest-reading] [--json]

Reads a session again from its raw lines and compares with what was recorded.
  --limits   judge by other limits: shipped ones, or a file with a job's limits
  --rule     judge by another decision rule
  --sweep-value  what counts of a sweep: its turning point, as at the bench, or its smallest reading,
             beside what the turning points give
  --json     print the result as one JSON object
Other limits, another rule or value change nothing in the comparison with what was recorded.
Exit status: 0 it agrees with what was recorded, 4 it differs, 5 a seal is broken.
`;

/** Reads a session's file for a command. @throws WrongUse with file, line and what was expected. */
export async function readSessionFile(path: string): Promise<ReadSession> {
  const bytes = await readBytes("session", path);
  try {
    return readSessionBytes(bytes);
  } catch (error) {
    if (error instanceof SessionError) throw new WrongUse(`session ${path}:${error.line}: ${error.message}`);
    throw new WrongUse(`session ${path}:1: ${error instanceof Error ? error.message : String(error)}`);
  }
}

/** `borewright recheck`. */
export async function recheck(args: readonly string[], io: Io): Promise<number> {
  const { values, files } = readOptions(
    "recheck",
    args,
    { limits: "text", rule: "text", "sweep-value": "text", json: "flag" },
    1,
  );
  const path = need("recheck", "SESSION", files[0]);
  const { rule } = values;
  if (rule !== undefined && rule !== "simple" && rule !== "guarded") {
    throw new WrongUse(`recheck: --rule ${rule}: expected simple or guarded`);
  }
  const sweepValue = values["sweep-value"] ?? "turning-point";
  if (!(SWEEP_VALUES as readonly string[]).includes(sweepValue)) {
    throw new WrongUse(`recheck: --sweep-value ${sweepValue}: expected ${SWEEP_VALUES.join(" or ")}`);
  }
  const bySmallest = sweepValue === "smallest-reading";
  const limits = values.limits === undefined ? undefined : await readLimits(values.limits);
  const read = await readSessionFile(path);
  const seal = read.broken.length === 0 ? "intact" : "broken";
  const own = limits === undefined && rule === undefined && !bySmallest;
  const result = own
    ? resultOf(read.recording, seal, { differences: read.differences })
    : (bySmallest ? resultBySmallestReading : resultUnder)(read.recording, seal, {
        differences: read.differences,
        ...(limits === undefined ? {} : { limits }),
        ...(rule === undefined ? {} : { rule }),
      });
  if (values.json) {
    io.out(`${JSON.stringify(result)}\n`);
  } else {
    io.out(tableOf(result, unitOf(read)));
    if (bySmallest) io.out(besideText(result, read));
    for (const { line, why } of read.broken) io.out(`Seal broken at line ${line}: ${why}.\n`);
    if (read.torn !== null) io.out(`A torn record of ${read.torn.bytes} bytes at the end was left out.\n`);
    for (const difference of read.differences) io.out(`Differs: ${difference}.\n`);
    if (seal === "intact") io.out("The seal is intact.\n");
    if (read.differences.length === 0) io.out("The raw lines give what was recorded.\n");
  }
  if (read.broken.length > 0) return EXIT.sealBroken;
  return read.differences.length > 0 ? EXIT.differs : EXIT.done;
}

/** By turning point and by smallest reading, a line a station. */
function besideText(result: Result, read: ReadSession): string {
  const unit = unitOf(read);
  const print = (nm: number | null, sign = false) =>
    nm === null ? "-" : formatLength(nm as Nm, unit, unit === "in" ? 5 : 4, sign);
  const rows = smallestRows(result, read.recording.job.agreementNm);
  if (rows.every(({ beyondNm }) => beyondNm === 0)) {
    return "By smallest reading everything is as recorded: the gauge gives one reading a sweep.\n";
  }
  const lines = aligned([
    ["bore", "station", "by turning point", "U", "by smallest reading", "U", "difference", "apart by"],
    ...rows.map((row) => [
      row.bore,
      row.station,
      print(row.turningPointNm),
      print(row.turningPointUNm),
      print(row.smallestNm),
      print(row.smallestUNm),
      print(row.differenceNm, true),
      `${print(row.spreadNm)}${row.fartherApart ? ", more than the agreement" : ""}`,
    ]),
  ]);
  return `${["The verdicts above are by the smallest reading of each sweep, which is nearly always too large; U holds how far it lies from the turning point.", ...lines].join("\n")}\n`;
}

/** The unit that the session's bore gauge counts in, for printing. */
export function unitOf(read: ReadSession): "in" | "mm" {
  return read.recording.job.gauges.find((gauge) => gauge.role === "bore")?.unit ?? "in";
}
