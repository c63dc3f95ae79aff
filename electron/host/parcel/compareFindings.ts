import { pairingSchema } from "../../../core/report/pairingSchema.ts";
import { OUTSIDE_MANIFEST, type ParcelFileName, type ParcelManifest } from "../../../core/report/parcelSchema.ts";
import { remedySchema } from "../../../core/report/remedySchema.ts";
import { type Result, resultSchema } from "../../../core/report/result.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { compareFile, firstOther } from "./compareFiles.ts";
import { differencesOf, differenceText } from "./compareRecorded.ts";
import { checksumsOf, contentFiles } from "./content.ts";
import type { Findings } from "./findings.ts";
import { type Change, changed } from "./parcelTrouble.ts";
import { utf8 } from "./utf8.ts";

/** A reader of another version may compute a length so much differently, nm; verdicts must be the same. Our choice. */
const OTHER_VERSION_NM = 100;

/** What a parcel gave so far. */
export interface Found {
  readonly read: ReadSession;
  readonly session: Buffer;
  /** By the raw lines. */
  readonly findings: Findings;
  readonly manifest: ParcelManifest;
  readonly app: string;
}

/** What is not as it was made, and what could not be compared. */
export interface Compared {
  readonly changes: readonly Change[];
  readonly warnings: readonly string[];
}

/** Whether the findings in the parcel are what the raw lines give, and every other file what they give. */
export function findingChanges(files: ReadonlyMap<ParcelFileName, Buffer>, found: Found): Compared {
  const { read, session, findings, manifest, app } = found;
  const recorded = recordedFindings(files);
  if (manifest.app !== app) return otherVersion(recorded.result, found);
  const differences = [
    ...compareFile("result.json", recorded.result, findings.result),
    ...compareFile("pairing.json", recorded.pairing, findings.pairing),
    ...compareFile("remedy.json", recorded.remedy, findings.remedy),
  ];
  if (differences.length > 0) return { changes: differences, warnings: [] };
  // From the recorded findings, whose last digits may be another machine's.
  const shop = manifest.shop ?? null;
  const made = contentFiles({ read, session, findings: recorded, app, decimal: manifest.tables.decimal, shop });
  // The sums are those of what is there, so that one changed file is told of once.
  made.set("checksums.txt", checksumsOf(files));
  const names = new Set([...made.keys(), ...files.keys()].filter((name) => !OUTSIDE_MANIFEST.has(name)));
  const changes = [...names].flatMap((name): Change[] => {
    const there = files.get(name);
    const expected = made.get(name);
    if (there === undefined || expected === undefined) {
      return [{ where: name, what: there === undefined ? "it is missing" : "the record gives no such file" }];
    }
    return there.equals(expected) ? [] : [firstOther(name, there, expected)];
  });
  return { changes, warnings: [] };
}

/** The findings as they stand in the parcel, with every field that is there. */
function recordedFindings(files: ReadonlyMap<ParcelFileName, Buffer>): Findings {
  const optional = <T>(name: ParcelFileName, schema: { parse(json: unknown): T }): T | null => {
    const bytes = files.get(name);
    return bytes === undefined ? null : readAs(name, bytes, schema);
  };
  return {
    result: readAs("result.json", files.get("result.json") as Buffer, resultSchema),
    pairing: optional("pairing.json", pairingSchema),
    remedy: optional("remedy.json", remedySchema),
  };
}

function readAs<T>(where: ParcelFileName, bytes: Buffer, schema: { parse(json: unknown): T }): T {
  try {
    const json: unknown = JSON.parse(utf8(bytes));
    schema.parse(json);
    return json as T;
  } catch {
    throw changed(where, "it is not of the form that it must have");
  }
}

/**
 * Another version may compute a little differently without anybody having changed anything: verdicts, rule, limits and
 * what was measured must be the same, lengths up to `OTHER_VERSION_NM`; uncertainties and tables are not compared.
 */
function otherVersion(recorded: Result, { findings, manifest, app }: Found): Compared {
  const differences = differencesOf(coreOf(recorded), coreOf(findings.result));
  const near = (one: unknown, other: unknown) =>
    typeof one === "number" && typeof other === "number" && Math.abs(one - other) <= OTHER_VERSION_NM;
  const worse = differences.filter(({ path, recorded: there, now }) => !(path.endsWith("Nm") && near(there, now)));
  const made = `It was made by ${manifest.app}; this is ${app}`;
  const how = differences.length === 0 ? "" : ` within ${OTHER_VERSION_NM} nm`;
  return {
    changes: worse.slice(0, 20).map((difference) => ({
      where: "result.json",
      what: `${differenceText(difference)} (${made}, which may compute otherwise)`,
    })),
    warnings: [
      `${made}: clearances and verdicts were computed again and agree${how}; uncertainties, tables and the report were checked by their hashes only.`,
    ],
  };
}

/** What of a result every version must find alike. */
function coreOf(result: Result): object {
  return {
    seal: result.seal,
    rule: result.rule,
    limits: { lowNm: String(result.limits.lowNm), highNm: String(result.limits.highNm), source: result.limits.source },
    complete: result.complete,
    simulated: result.simulated,
    lifters: result.lifters.map(({ name, diameterNm, readings }) => ({ name, diameterNm, readings })),
    zeros: result.zeros.map(({ t, valueNm, kind, held }) => ({ t, valueNm, kind, held })),
    bores: result.bores.map(({ name, stations, clearanceMinNm, clearanceMaxNm, verdict }) => ({
      name,
      verdict,
      clearanceMinNm,
      clearanceMaxNm,
      stations: stations.map(({ height, clock, valueNm, clearanceNm }) => ({ height, clock, valueNm, clearanceNm })),
    })),
  };
}
