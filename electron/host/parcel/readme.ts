import { plainText } from "../../../core/length/shownText.ts";
import type { ParcelFileName } from "../../../core/report/parcelSchema.ts";
import type { Result } from "../../../core/report/result.ts";
import { studyPlanOf } from "../../../core/report/studySession.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import type { DecimalSign } from "../csv.ts";
import { fingerprintOf } from "../shopKey.ts";

/** What the text for a reader without this program is made from. */
export interface ReadmeInput {
  readonly read: ReadSession;
  readonly result: Result;
  readonly app: string;
  readonly decimal: DecimalSign;
  readonly shop: { readonly name: string; readonly key: string } | null;
  /** Every file of the parcel, in order. */
  readonly files: readonly ParcelFileName[];
}

const WIDTH = 78;

/** What is said of a session recorded as a study. */
export const STUDY =
  "This is a study of the gauge: people measured the same bores again and again. Its verdicts speak of no block.";

/** What each file holds and what reads it. */
function about(name: ParcelFileName, decimal: DecimalSign): string {
  switch (name) {
    case "README.txt":
      return "this text";
    case "manifest.json":
      return "size and SHA-256 of every other file, and who made the parcel; JSON, one line";
    case "manifest.sig":
      return "signature (Ed25519, 64 bytes) over manifest.json as it stands";
    case "signer.pem":
      return "the public key of who signed; a text that openssl reads";
    case "checksums.txt":
      return "the same SHA-256 sums in the form that sha256sum reads";
    case "session.bwsession":
      return "the record itself: every line that came from a gauge, as it came, and what the operator did; one JSON object a line, in the order it happened, each sealed to the one before. Everything else here is computed from it";
    case "result.json":
      return "what was found, complete: sweeps, stations, clearances, uncertainty budgets, verdicts, notices; JSON, lengths in nanometres (names that end in Nm)";
    case "pairing.json":
      return "which lifter would go into which bore; JSON";
    case "remedy.json":
      return "what could be done with each bore, for planning; JSON";
    case "report.html":
      return "the report to read and to print; any web browser, no network";
    case "stations.csv":
    case "bores.csv":
    case "lifters.csv":
    case "sweeps.csv":
    case "pairing.csv":
    case "remedy.csv":
      return `${TABLES[name]}; a table for any spreadsheet (UTF-8, ${
        decimal === "comma" ? "cells parted by semicolons, decimal comma" : "cells parted by commas, decimal point"
      })`;
    case "results.qif":
      return "the same findings as a QIF 3.0 results document (XML, ISO 23952) for other inspection software";
  }
}

const TABLES = {
  "stations.csv": "one row a station: reading, clearance, uncertainty",
  "bores.csv": "one row a bore: smallest and largest clearance, form, verdict",
  "lifters.csv": "one row a lifter: diameter",
  "sweeps.csv": "one row a sweep, struck and set-aside ones included",
  "pairing.csv": "one row a bore: the lifter that would go in",
  "remedy.csv": "one row a bore that metal would be cut in: sizes for the machine shop, for planning",
} as const;

/** The script in the text; a test takes it out and runs it. */
const SEALS_SCRIPT = `import hashlib
seal, number = "", 0
for number, line in enumerate(open("session.bwsession", "rb"), 1):
    line = line.decode("utf-8").rstrip("\\n")
    head, mark, tail = line.rpartition('"seal":"')
    own, bare = tail[:64], head + tail[66:]
    found = hashlib.sha256((seal + bare).encode("utf-8")).hexdigest()
    if not mark or found != own:
        raise SystemExit("the seal is broken at line %d" % number)
    seal = own
print(number, "lines, every seal holds, the last is", seal)`;

/** The text for a reader who has no such program: what is in the parcel, how to read it, how to check it by hand. */
export function readmeOf({ read, result, app, decimal, shop, files }: ReadmeInput): string {
  const { header, recording } = read;
  const { job } = recording;
  const has = (name: ParcelFileName) => files.includes(name);
  const verdicts = ["fits", "too tight", "too loose", "undecided", "not measured"] as const;
  const counted = verdicts
    .map((verdict) => [result.bores.filter((bore) => bore.verdict === verdict).length, verdict] as const)
    .filter(([count]) => count > 0)
    .map(([count, verdict]) => `${count} ${verdict}`);
  const um = (nm: number) => `${nm / 1000} um`;
  const { limits } = result;
  return [
    "WHAT THIS IS",
    "",
    ...wrapped(
      "The record of measuring the lifter bores of an engine block against their lifters, with every raw reading, for whoever builds on with it.",
    ),
    "",
    ...fields([
      ["Job", job.title],
      ["Block", job.block],
      ["Operator", job.operator],
      ["Layout", job.layout.title],
      ["Begun", header.created],
      ["Limits", `${um(limits.lowNm)} to ${um(limits.highNm)} diametral clearance (${limits.source})`],
      ["Rule", result.rule === "guarded" ? "guarded: 95 % certain before a bore is said to fit or not" : "simple"],
      ["Bores", counted.join(", ")],
      ["Walk", result.complete ? "complete" : "NOT complete"],
      ["Made by", app],
      ["Signed by", shop === null ? "nobody" : `${shop.name}, key ${fingerprintOf(shop.key)}`],
    ]),
    "",
    ...(result.simulated ? ["SIMULATED GAUGES: THIS PROVES NOTHING ABOUT A BLOCK.", ""] : []),
    ...(studyPlanOf(job) === null ? [] : [...wrapped(STUDY), ""]),
    ...wrapped(
      "The lifter or cam maker's sheet comes first, and the machinist's judgement. A two-point gauge does not see three-lobed form. This says what was measured, how well, and how it compares with the limits stated; it does not say that an engine is safe to run.",
    ),
    "",
    "THE FILES",
    "",
    ...wrapped(
      "This parcel is an ordinary zip file whose files are stored without compression. Any program that unpacks zip files opens it; it may help to rename it so that it ends in .zip.",
    ),
    "",
    ...files.flatMap((name) => [name, ...wrapped(about(name, decimal), "    ")]),
    "",
    ...wrapped("1 in = 25.4 mm = 25400000 nm. Clearances are diametral: bore less lifter, at 20 degrees Celsius."),
    "",
    "CHECKING IT BY HAND",
    "",
    "1. That no file was changed, in the folder it was unpacked to:",
    "",
    "    sha256sum -c checksums.txt                (Linux)",
    "    shasum -a 256 -c checksums.txt            (macOS)",
    "    certutil -hashfile result.json SHA256     (Windows, file by file)",
    "",
    ...wrapped(
      `2. That the record was not changed. Each line carries a seal: the SHA-256 of the seal of the line before it (nothing, for the first line) followed by the line itself without its "seal". The last of the ${recording.n + 1} lines must have the seal`,
    ),
    `    ${recording.seal}`,
    "as manifest.json also says. With Python 3:",
    "",
    ...SEALS_SCRIPT.split("\n").map((line) => `    ${line}`),
    "",
    ...(has("manifest.sig")
      ? [
          ...wrapped(
            "3. That it comes from who signed it. Compare the key above with its owner, by telephone for example; anybody can make a key under any name. Then, with OpenSSL 3:",
          ),
          "",
          "    openssl pkeyutl -verify -pubin -inkey signer.pem -rawin \\",
          "        -in manifest.json -sigfile manifest.sig",
          "",
        ]
      : [
          ...wrapped(
            "3. It is not signed. Sums and seals show damage and careless changes; whoever can compute them can also forge the whole. Who it comes from is not proven.",
          ),
          "",
        ]),
    "READING A LINE OF THE RECORD",
    "",
    ...wrapped(
      'The first line holds the job. In the others "n" counts on, "t" is the time in milliseconds since the start, "type" says what happened: "line" is a text from a gauge, "step" what the operator chose to do (lifters, zero, step-check, bores, return), "kept" what the program computed from the lines before it at that moment.',
    ),
    "",
  ].join("\n");
}

function fields(rows: readonly (readonly [string, string])[]): string[] {
  return rows
    .filter(([, value]) => value.trim() !== "")
    .flatMap(([name, value]) => {
      const [first = "", ...rest] = wrapped(plainText(value), " ".repeat(12));
      return [`${name.padEnd(12)}${first.slice(12)}`, ...rest];
    });
}

/** Text broken at blanks into lines; a word that is longer than a line stands alone. */
function wrapped(text: string, indent = ""): string[] {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(" ")) {
    if (line.length + word.length + 1 > WIDTH && line.trim() !== "") {
      lines.push(line.trimEnd());
      line = indent;
    }
    line += line === indent ? word : ` ${word}`;
  }
  return [...lines, line.trimEnd()];
}
