import { pairingSchema } from "../../../core/report/pairingSchema.ts";
import {
  OUTSIDE_MANIFEST,
  PARCEL_FILES,
  type ParcelCheck,
  type ParcelFileName,
  type ParcelManifest,
  parcelManifestSchema,
} from "../../../core/report/parcelSchema.ts";
import { remedySchema } from "../../../core/report/remedySchema.ts";
import { type Result, resultSchema } from "../../../core/report/result.ts";
import { studyPlanOf } from "../../../core/report/studySession.ts";
import { type ReadSession, SessionError } from "../../../core/session/recording.ts";
import { canonical } from "../../../core/session/seal.ts";
import { appName } from "../appName.ts";
import { readSessionInSlices } from "../sessionFile.ts";
import { fingerprintOf, isSignedBy, publicKeyPem } from "../shopKey.ts";
import type { KeyStanding } from "../shopKeyBook.ts";
import { differencesOf, differenceText } from "./compareRecorded.ts";
import { checksumsOf, contentFiles, sha256Of } from "./content.ts";
import { type Findings, findingsOf } from "./findings.ts";
import { changed, ParcelTrouble, unreadable } from "./parcelTrouble.ts";
import { STUDY } from "./readme.ts";
import { filesOfZip, LARGEST_PARCEL } from "./zipLayout.ts";

export interface OpenOptions {
  /** What is known of a key (base64) under a name; without it every key is new. */
  readonly standing?: (name: string, key: string) => KeyStanding;
  /** This program and version; a parcel of another is compared more leniently. Given by tests. */
  readonly app?: string;
  /**
   * Looks for the place of a change inside a file whose hash shows that it was changed (default). Without, the first sign
   * is enough.
   */
  readonly locate?: boolean;
}

/** A parcel opened: what the checks came to, and what was in it if it is intact. */
export interface OpenedParcel {
  readonly check: ParcelCheck;
  /** The session's file, byte by byte; null unless the parcel is intact. */
  readonly session: Buffer | null;
  readonly read: ReadSession | null;
  /** The key that signed (base64); null unless it is intact and signed. */
  readonly key: string | null;
}

/** A reader of another version may compute a length so much differently, nm; verdicts must be the same. Our choice. */
const OTHER_VERSION_NM = 100;

type Change = ParcelCheck["changes"][number];

/**
 * Opens a parcel from the bytes of its file. Everything is checked before anything of it is given out: the archive byte by
 * byte, sizes and hashes, every seal of the record, the signature, and that the findings are what the raw lines give.
 * Nothing is written anywhere and nothing in it is run. Never throws for what is in the file.
 */
export async function openParcel(bytes: Buffer, options: OpenOptions = {}): Promise<OpenedParcel> {
  try {
    return await checked(bytes, options);
  } catch (error) {
    if (error instanceof ParcelTrouble) return notIntact(error);
    const says = error instanceof Error ? error.message : String(error);
    return notIntact(unreadable("the file", `it could not be checked to the end (${says})`));
  }
}

function notIntact({ outcome, where, message }: ParcelTrouble): OpenedParcel {
  if (outcome === "changed") return withChanges([{ where, what: message }]);
  return ended({ outcome, why: `${where}: ${message}` });
}

const withChanges = (changes: readonly Change[]): OpenedParcel => ended({ outcome: "changed", changes: [...changes] });

function ended(check: Pick<ParcelCheck, "outcome"> & Partial<ParcelCheck>): OpenedParcel {
  return {
    check: {
      format: "borewright/parcel-check",
      version: 1,
      shop: null,
      changes: [],
      why: null,
      warnings: [],
      manifest: null,
      result: null,
      ...check,
    },
    session: null,
    read: null,
    key: null,
  };
}

async function checked(bytes: Buffer, options: OpenOptions): Promise<OpenedParcel> {
  if (bytes.length > LARGEST_PARCEL)
    throw unreadable("the file", `${bytes.length} bytes; expected at most ${LARGEST_PARCEL}`);
  const { app = appName } = options;
  const { files, damaged } = filesOfZip(bytes);
  if (damaged.has("manifest.json")) throw changed("manifest.json", "it does not match its check sum in the archive");
  const manifest = readManifest(files);
  const changes = fileChanges(files, damaged, manifest);
  if (changes.length > 0) {
    if (options.locate !== false) changes.push(...(await placesOfChange(files, changes, manifest, app)));
    return withChanges(changes);
  }
  checkSignature(files, manifest);
  const session = files.get("session.bwsession") as Buffer;
  const read = await readRecord(session);
  const recorded = recordChanges(read, manifest);
  if (recorded.length > 0) return withChanges(recorded);
  const findings = findingsOf(read);
  const compared = findingChanges(files, { read, session, findings, manifest, app });
  if (compared.changes.length > 0) return withChanges(compared.changes);
  const { result } = findings;
  return intact({ manifest, read, session, result, warnings: compared.warnings, standing: options.standing });
}

function intact({
  manifest,
  read,
  session,
  result,
  warnings,
  standing = () => "new",
}: {
  readonly manifest: ParcelManifest;
  readonly read: ReadSession;
  readonly session: Buffer;
  readonly result: Result;
  readonly warnings: readonly string[];
  readonly standing: OpenOptions["standing"] | undefined;
}): OpenedParcel {
  const { shop } = manifest;
  const key = shop === undefined ? null : standing(shop.name, shop.key);
  const all = [
    ...(result.simulated ? ["Simulated gauges were connected: this proves nothing about a block."] : []),
    ...(studyPlanOf(read.recording.job) === null ? [] : [STUDY]),
    ...(result.complete ? [] : ["The walk is not complete."]),
    ...(manifest.session.tornBytes > 0
      ? [`A torn last record of ${manifest.session.tornBytes} bytes was left out when the parcel was made.`]
      : []),
    ...read.differences.map(
      (difference) => `What was recorded at the time is not what its raw lines give: ${difference}.`,
    ),
    ...(shop !== undefined && key === "other-key"
      ? [
          `THE KEY IS ANOTHER ONE than the one known for "${shop.name}". Ask that shop, by telephone for example, whether its key is ${fingerprintOf(shop.key)} now; until then take this parcel for somebody else's.`,
        ]
      : []),
    ...warnings,
  ];
  return {
    ...ended({
      outcome: shop === undefined ? "intact" : key === "known" ? "signed-known" : "signed-new",
      shop: shop === undefined || key === null ? null : { name: shop.name, fingerprint: fingerprintOf(shop.key), key },
      warnings: all,
      manifest,
      result,
    }),
    session,
    read,
    key: shop?.key ?? null,
  };
}

function readManifest(files: ReadonlyMap<ParcelFileName, Buffer>): ParcelManifest {
  const bytes = files.get("manifest.json");
  if (bytes === undefined) throw unreadable("manifest.json", "it is not there, so nothing can be checked");
  let json: unknown;
  try {
    json = JSON.parse(utf8(bytes));
  } catch {
    throw unreadable("manifest.json", "it is not JSON in UTF-8");
  }
  const { format, version } = (typeof json === "object" && json !== null ? json : {}) as Record<string, unknown>;
  if (format !== "borewright/parcel") throw unreadable("manifest.json", 'expected the format "borewright/parcel"');
  if (version !== 1) {
    throw unreadable("manifest.json", `found version ${JSON.stringify(version)}; this program reads version 1`);
  }
  const parsed = parcelManifestSchema.safeParse(json);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw unreadable("manifest.json", `${issue?.path.join(".") || "the whole"}: ${issue?.message ?? "not a manifest"}`);
  }
  if (canonical(parsed.data) !== utf8(bytes)) throw changed("manifest.json", "it is not written as it was made");
  return parsed.data;
}

const utf8 = (bytes: Uint8Array): string => new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);

/** Which files are missing, too many, damaged, out of order, or not those that the manifest states. */
function fileChanges(
  files: ReadonlyMap<ParcelFileName, Buffer>,
  damaged: ReadonlySet<ParcelFileName>,
  manifest: ParcelManifest,
): Change[] {
  const changes: Change[] = [];
  const stated = new Map(manifest.files.map((file) => [file.name, file]));
  if (stated.size !== manifest.files.length) changes.push({ where: "manifest.json", what: "it states a file twice" });
  for (const [name, needed] of Object.entries(PARCEL_FILES) as [ParcelFileName, boolean][]) {
    const bytes = files.get(name);
    const file = stated.get(name);
    const free = OUTSIDE_MANIFEST.has(name);
    if (free && file !== undefined)
      changes.push({ where: "manifest.json", what: `it states ${name}, which it cannot know` });
    if (bytes === undefined) {
      if (needed || file !== undefined) changes.push({ where: name, what: "it is missing" });
    } else if (file === undefined) {
      if (!free) changes.push({ where: name, what: "it was added: the manifest does not state it" });
      else if (damaged.has(name)) changes.push({ where: name, what: "it does not match its check sum in the archive" });
    } else if (bytes.length !== file.size) {
      changes.push({ where: name, what: `${bytes.length} bytes; the manifest states ${file.size}` });
    } else if (sha256Of(bytes) !== file.sha256) {
      changes.push({ where: name, what: "its SHA-256 is not the one that the manifest states" });
    } else if (damaged.has(name)) {
      changes.push({ where: name, what: "it does not match its check sum in the archive" });
    }
  }
  for (const name of stated.keys()) {
    if (!Object.hasOwn(PARCEL_FILES, name)) {
      changes.push({ where: "manifest.json", what: `it states ${JSON.stringify(name)}, which no parcel has` });
    }
  }
  const order = Object.keys(PARCEL_FILES).filter((name) => files.has(name as ParcelFileName));
  if (changes.length === 0 && [...files.keys()].join() !== order.join()) {
    changes.push({ where: "the archive", what: "its files are in another order" });
  }
  return changes;
}

/**
 * Where in a file whose hash is wrong it was changed, as far as can be told: in the record by its seals, elsewhere by what
 * the record gives (a parcel of another version of the program is not made again).
 */
async function placesOfChange(
  files: ReadonlyMap<ParcelFileName, Buffer>,
  changes: readonly Change[],
  manifest: ParcelManifest,
  app: string,
): Promise<Change[]> {
  const session = files.get("session.bwsession");
  if (session === undefined) return [];
  try {
    const read = await readRecord(session);
    if (changes.some(({ where }) => where === "session.bwsession")) return sealChanges(read);
    if (manifest.app !== app || recordChanges(read, manifest).length > 0) return [];
    const findings = findingsOf(read);
    const shop = manifest.shop ?? null;
    const made = contentFiles({ read, session, findings, app, decimal: manifest.tables.decimal, shop });
    return changes.flatMap(({ where }) => {
      const name = where as ParcelFileName;
      const there = files.get(name);
      const expected = made.get(name);
      if (there === undefined || expected === undefined || there.equals(expected)) return [];
      return name.endsWith(".json") ? valuesChanged(name, there, expected) : [firstOther(name, there, expected)];
    });
  } catch (error) {
    if (error instanceof ParcelTrouble) return [{ where: error.where, what: error.message }];
    throw error;
  }
}

function checkSignature(files: ReadonlyMap<ParcelFileName, Buffer>, { shop }: ParcelManifest): void {
  const signature = files.get("manifest.sig");
  const pem = files.get("signer.pem");
  if (shop === undefined) {
    if (signature !== undefined)
      throw changed("manifest.sig", "there is a signature, and the manifest names nobody who signed");
    if (pem !== undefined) throw changed("signer.pem", "there is a key, and the manifest names nobody who signed");
    return;
  }
  if (signature === undefined)
    throw changed("manifest.sig", `it is missing; the manifest says that "${shop.name}" signed`);
  if (pem === undefined) throw changed("signer.pem", `it is missing; the manifest says that "${shop.name}" signed`);
  if (!isSignedBy(shop.key, files.get("manifest.json") as Buffer, signature)) {
    throw changed("manifest.sig", `the signature of "${shop.name}" is not right for this manifest`);
  }
  if (publicKeyPem(shop.key) !== pem.toString("latin1")) {
    throw changed("signer.pem", "it is another key than the one that signed");
  }
}

async function readRecord(session: Buffer): Promise<ReadSession> {
  try {
    utf8(session);
  } catch {
    throw changed("session.bwsession", "it is not UTF-8 text");
  }
  try {
    return await readSessionInSlices(session);
  } catch (error) {
    if (error instanceof SessionError) throw changed(`session.bwsession, line ${error.line}`, error.message);
    throw error;
  }
}

function sealChanges({ broken, torn }: ReadSession): Change[] {
  return [
    ...broken.slice(0, 20).map(({ line, why }) => ({ where: `session.bwsession, line ${line}`, what: why })),
    ...(torn === null
      ? []
      : [{ where: "session.bwsession, the end", what: `${torn.bytes} bytes after the last whole record` }]),
  ];
}

function recordChanges(read: ReadSession, { session }: ParcelManifest): Change[] {
  const { recording, header } = read;
  const changes = sealChanges(read);
  const expect = (what: string, stated: string | number, is: string | number) => {
    if (stated !== is)
      changes.push({ where: "manifest.json", what: `it states ${what} ${stated}; the record has ${is}` });
  };
  expect("the last record as", session.records, recording.n);
  expect("the last seal as", session.seal, recording.seal);
  expect("the beginning as", session.created, header.created);
  return changes;
}

interface Found {
  readonly read: ReadSession;
  readonly session: Buffer;
  /** By the raw lines. */
  readonly findings: Findings;
  readonly manifest: ParcelManifest;
  readonly app: string;
}

interface Compared {
  readonly changes: readonly Change[];
  readonly warnings: readonly string[];
}

/** Whether the findings in the parcel are what the raw lines give, and every other file what they give. */
function findingChanges(files: ReadonlyMap<ParcelFileName, Buffer>, found: Found): Compared {
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

function compareFile(where: ParcelFileName, recorded: unknown, now: unknown): Change[] {
  const plain: unknown = JSON.parse(JSON.stringify(now));
  return differencesOf(recorded, plain)
    .slice(0, 20)
    .map((difference) => ({ where, what: differenceText(difference) }));
}

/** Which values of a JSON file differ; the first line that does where it is no JSON any more, or only written otherwise. */
function valuesChanged(name: ParcelFileName, there: Buffer, expected: Buffer): Change[] {
  try {
    const found = compareFile(name, JSON.parse(utf8(there)), JSON.parse(utf8(expected)));
    if (found.length > 0) return found;
  } catch {
    // No JSON: then the line must do.
  }
  return [firstOther(name, there, expected)];
}

/** The first line that differs. */
function firstOther(name: ParcelFileName, there: Buffer, expected: Buffer): Change {
  let at = 0;
  while (at < there.length && there[at] === expected[at]) at += 1;
  const line = there.subarray(0, at).toString("latin1").split("\n").length;
  return { where: `${name}, line ${line}`, what: "it is not what the record gives" };
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
