import type { ParcelFileName, ParcelManifest } from "../../../core/report/parcelSchema.ts";
import { readRecord, recordChanges, sealChanges } from "./checkRecord.ts";
import { firstOther, valuesChanged } from "./compareFiles.ts";
import { contentFiles } from "./content.ts";
import { findingsOf } from "./findings.ts";
import { type Change, ParcelTrouble } from "./parcelTrouble.ts";

/**
 * Where in a file whose hash is wrong it was changed, as far as can be told: in the record by its seals, elsewhere by what
 * the record gives (a parcel of another version of the program is not made again).
 */
export async function placesOfChange(
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
    const findings = await findingsOf(read);
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
