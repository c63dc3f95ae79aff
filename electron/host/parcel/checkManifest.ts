import { expectedText, shownValue } from "../../../core/length/shownText.ts";
import {
  OUTSIDE_MANIFEST,
  PARCEL_FILES,
  type ParcelFileName,
  type ParcelManifest,
  parcelManifestSchema,
} from "../../../core/report/parcelSchema.ts";
import { canonical } from "../../../core/session/seal.ts";
import { sha256Of } from "./content.ts";
import { type Change, changed, unreadable } from "./parcelTrouble.ts";
import { utf8 } from "./utf8.ts";

/** The manifest of a parcel. @throws ParcelTrouble when it is missing, of another version, or not as it is written. */
export function readManifest(files: ReadonlyMap<ParcelFileName, Buffer>): ParcelManifest {
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
    throw unreadable("manifest.json", `found version ${shownValue(version)}; this program reads version 1`);
  }
  const parsed = parcelManifestSchema.safeParse(json);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    throw unreadable(
      "manifest.json",
      `${issue?.path.join(".") || "the whole"}: ${expectedText(issue?.message ?? "not a manifest")}`,
    );
  }
  if (!isCanonical(parsed.data, utf8(bytes))) throw changed("manifest.json", "it is not written as it was made");
  return parsed.data;
}

function isCanonical(manifest: ParcelManifest, text: string): boolean {
  try {
    return canonical(manifest) === text;
  } catch {
    // It holds what canonical JSON can not.
    return false;
  }
}

/** Which files are missing, too many, damaged, out of order, or not those that the manifest states. */
export function fileChanges(
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
