import type { ParcelFileName, ParcelManifest } from "../../../core/report/parcelSchema.ts";
import type { Result } from "../../../core/report/result.ts";
import type { ReadSession } from "../../../core/session/recording.ts";
import { canonical } from "../../../core/session/seal.ts";
import { appName } from "../appName.ts";
import type { DecimalSign } from "../csv.ts";
import { inSlices, readSessionInSlices } from "../sessionFile.ts";
import type { ShopKey } from "../shopKey.ts";
import { contentByStep, inOrder, manifestOf } from "./content.ts";
import { findingsOf } from "./findings.ts";
import { zipOf } from "./writeZip.ts";

export interface ParcelOptions {
  /** Signs the parcel. */
  readonly key?: ShopKey;
  /** How numbers are written in the tables; a point if not given. */
  readonly decimal?: DecimalSign;
  /** Program and version to name; this one if not given. */
  readonly app?: string;
}

export interface MadeParcel {
  /** The parcel's file. */
  readonly bytes: Buffer;
  readonly manifest: ParcelManifest;
  readonly read: ReadSession;
  readonly result: Result;
}

/** Thrown for a session that no parcel is made of: its seals do not hold, so it would prove nothing. */
export class BrokenSessionError extends Error {
  override readonly name = "BrokenSessionError";
  /** Line of the session's file, 1 = header. */
  readonly line: number;
  constructor(line: number, why: string) {
    super(why);
    this.line = line;
  }
}

/**
 * Makes the parcel of a session from the bytes of its file. A torn last record is left out, as it was never kept.
 * The same session, options and program give the same bytes.
 * @throws SessionError when it is no session.
 * @throws BrokenSessionError when a seal of it is broken.
 */
export async function makeParcel(session: Uint8Array, options: ParcelOptions = {}): Promise<MadeParcel> {
  const { key, decimal = "point", app = appName } = options;
  const read = await readSessionInSlices(session);
  const [broken] = read.broken;
  if (broken !== undefined) throw new BrokenSessionError(broken.line, broken.why);
  const findings = await findingsOf(read);
  const content = {
    read,
    session: read.torn === null ? session : session.subarray(0, read.torn.wholeBytes),
    findings,
    app,
    decimal,
    shop: key === undefined ? null : { name: key.name, key: key.publicKey },
  };
  const files = await inSlices(contentByStep(content));
  const manifest = manifestOf(content, files);
  const manifestBytes = Buffer.from(canonical(manifest), "utf8");
  const all = new Map<ParcelFileName, Uint8Array>([...files, ["manifest.json", manifestBytes]]);
  if (key !== undefined) all.set("manifest.sig", key.sign(manifestBytes));
  const ordered = new Map(inOrder(all.keys()).map((name) => [name, all.get(name) as Uint8Array]));
  return { bytes: await zipOf(ordered), manifest, read, result: findings.result };
}
