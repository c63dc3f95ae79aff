import type { ParcelCheck, ParcelManifest } from "../../../core/report/parcelSchema.ts";
import type { Result } from "../../../core/report/result.ts";
import { studyPlanOf } from "../../../core/report/studySession.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { appName } from "../appName.ts";
import { fingerprintOf } from "../shopKey.ts";
import type { KeyStanding } from "../shopKeyBook.ts";
import { fileChanges, readManifest } from "./checkManifest.ts";
import { readRecord, recordChanges } from "./checkRecord.ts";
import { checkSignature } from "./checkSignature.ts";
import { findingChanges } from "./compareFindings.ts";
import { findingsOf } from "./findings.ts";
import { type Change, changed, ParcelTrouble, unreadable } from "./parcelTrouble.ts";
import { placesOfChange } from "./placesOfChange.ts";
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

function ended({ outcome, ...check }: Pick<ParcelCheck, "outcome"> & Partial<ParcelCheck>): OpenedParcel {
  return {
    check: {
      format: "borewright/parcel-check",
      version: 1,
      outcome,
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
  const findings = await findingsOf(read);
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
    ...(read.differences.length === 0
      ? []
      : [
          `${read.differences.length} records of the time are not what their raw lines give now; the first: ${read.differences[0]}.`,
        ]),
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
