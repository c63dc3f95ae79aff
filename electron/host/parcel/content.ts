import { createHash } from "node:crypto";
import { atOnce } from "../../../core/remedy/atOnce.ts";
import {
  OUTSIDE_MANIFEST,
  PARCEL_FILES,
  type ParcelFileName,
  type ParcelManifest,
} from "../../../core/report/parcelSchema.ts";
import { pairingTable } from "../../../core/report/parcelTables.ts";
import { qifOf } from "../../../core/report/qif.ts";
import { shopSheet, shopSheetTable } from "../../../core/report/shopSheet.ts";
import { boresTable, liftersTable, stationsTable, sweepsTable } from "../../../core/report/tables.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { csvOf, type DecimalSign } from "../csv.ts";
import { publicKeyPem } from "../shopKey.ts";
import type { Findings } from "./findings.ts";
import { readmeOf } from "./readme.ts";
import { reportFile } from "./reportFile.ts";

/** What the files of a parcel are made from. */
export interface ParcelContent {
  readonly read: ReadSession;
  /** The session's file as it is, whole records only. */
  readonly session: Uint8Array;
  readonly findings: Findings;
  readonly app: string;
  readonly decimal: DecimalSign;
  /** Who signs: name and public key (base64). */
  readonly shop: { readonly name: string; readonly key: string } | null;
}

export const sha256Of = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

const text = (content: string): Buffer => Buffer.from(content, "utf8");
const json = (value: object): Buffer => text(`${JSON.stringify(value, null, 2)}\n`);

/**
 * Every file of a parcel that the manifest states, in the order of the parcel. The same content always gives the same
 * bytes: nothing here asks a clock, a locale or a setting.
 */
export function contentFiles(content: ParcelContent): Map<ParcelFileName, Buffer> {
  return atOnce(contentByStep(content));
}

/** `contentFiles`, a file at a time. */
export function* contentByStep(content: ParcelContent): Generator<void, Map<ParcelFileName, Buffer>, void> {
  const { read, session, findings, app, decimal, shop } = content;
  const { result, pairing, remedy } = findings;
  const { job } = read.recording;
  const made = new Map<ParcelFileName, Buffer>([
    ["session.bwsession", Buffer.from(session)],
    ["result.json", json(result)],
  ]);
  yield;
  made.set("report.html", text(reportFile(read, findings)));
  yield;
  for (const [name, table] of [
    ["stations.csv", stationsTable],
    ["bores.csv", boresTable],
    ["lifters.csv", liftersTable],
    ["sweeps.csv", sweepsTable],
  ] as const) {
    made.set(name, text(csvOf(table(result), decimal)));
    yield;
  }
  made.set(
    "results.qif",
    text(
      qifOf({
        result,
        job: { ...job, gauges: read.recording.run.gaugesAsRead },
        created: read.header.created,
        app,
        seal: read.recording.seal,
      }),
    ),
  );
  yield;
  if (pairing !== null) {
    made.set("pairing.json", json(pairing));
    made.set("pairing.csv", text(csvOf(pairingTable(pairing), decimal)));
  }
  if (remedy !== null) {
    made.set("remedy.json", json(remedy));
    made.set("remedy.csv", text(csvOf(shopSheetTable(shopSheet(remedy, job)), decimal)));
  }
  if (shop !== null) made.set("signer.pem", text(publicKeyPem(shop.key)));
  const others = [...made.keys(), "README.txt", "checksums.txt", "manifest.json"] as const;
  const names = inOrder([...others, ...(shop === null ? [] : (["manifest.sig"] as const))]);
  made.set("README.txt", text(readmeOf({ read, result, app, decimal, shop, files: names })));
  made.set("checksums.txt", checksumsOf(made));
  return new Map(inOrder(made.keys()).map((name) => [name, made.get(name) as Buffer]));
}

/** The names in the order in which they stand in a parcel. */
export function inOrder(names: Iterable<ParcelFileName>): ParcelFileName[] {
  const wanted = new Set(names);
  return (Object.keys(PARCEL_FILES) as ParcelFileName[]).filter((name) => wanted.has(name));
}

/** `checksums.txt` for these files, in the form of sha256sum; what it cannot or need not state is left out. */
export function checksumsOf(files: ReadonlyMap<ParcelFileName, Uint8Array>): Buffer {
  const stated = inOrder(files.keys()).filter((name) => !OUTSIDE_MANIFEST.has(name) && name !== "checksums.txt");
  return text(stated.map((name) => `${sha256Of(files.get(name) as Uint8Array)}  ${name}\n`).join(""));
}

/** The manifest of these files. */
export function manifestOf(
  { read, app, decimal, shop }: ParcelContent,
  files: ReadonlyMap<ParcelFileName, Uint8Array>,
): ParcelManifest {
  const { recording, torn, header } = read;
  return {
    format: "borewright/parcel",
    version: 1,
    app,
    session: {
      created: header.created,
      records: recording.n,
      seal: recording.seal,
      tornBytes: torn?.bytes ?? 0,
    },
    tables: { decimal },
    ...(shop === null ? {} : { shop: { ...shop } }),
    files: [...files]
      .filter(([name]) => !OUTSIDE_MANIFEST.has(name))
      .map(([name, bytes]) => ({ name, size: bytes.length, sha256: sha256Of(bytes) })),
  };
}
