import { pairingSchema } from "../../../core/report/pairingSchema.ts";
import { OUTSIDE_MANIFEST, type ParcelFileName, type ParcelManifest } from "../../../core/report/parcelSchema.ts";
import { remedySchema } from "../../../core/report/remedySchema.ts";
import { resultSchema } from "../../../core/report/result.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { z } from "../../../core/zod.ts";
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
  if (manifest.app !== app) {
    return otherVersion(readAs("result.json", files.get("result.json") as Buffer, coreSchema), found);
  }
  const recorded = recordedFindings(files);
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
function otherVersion(recorded: Core, { findings, manifest, app }: Found): Compared {
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

const nm = z.number().int();
/** What of a result every version must find alike; results of later and earlier versions may have other fields beside. */
const coreSchema = z.object({
  seal: z.string(),
  rule: z.string(),
  limits: z.object({ lowNm: nm, highNm: nm, source: z.string() }),
  complete: z.boolean(),
  simulated: z.boolean(),
  lifters: z.array(z.object({ name: z.string(), diameterNm: nm, readings: z.number() })),
  zeros: z.array(z.object({ t: z.number(), valueNm: nm, kind: z.string(), held: z.boolean() })),
  bores: z.array(
    z.object({
      name: z.string(),
      verdict: z.string(),
      clearanceMinNm: nm.nullable(),
      clearanceMaxNm: nm.nullable(),
      stations: z.array(
        z.object({ height: z.string(), clock: z.string(), valueNm: nm.nullable(), clearanceNm: nm.nullable() }),
      ),
    }),
  ),
});
type Core = z.infer<typeof coreSchema>;

/** The limits are not measured: as texts they must be the same to the last nanometre. */
function coreOf(result: Core): object {
  const { limits, ...rest } = coreSchema.parse(result);
  return { ...rest, limits: { ...limits, lowNm: String(limits.lowNm), highNm: String(limits.highNm) } };
}
