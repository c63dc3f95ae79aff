import type { ParcelManifest } from "../../../core/report/parcelSchema.ts";
import { type ReadSession, SessionError } from "../../../core/session/recording.ts";
import { readSessionInSlices } from "../sessionFile.ts";
import { type Change, changed } from "./parcelTrouble.ts";
import { utf8 } from "./utf8.ts";

/** The record in a parcel, computed again from its raw lines. @throws ParcelTrouble when it is no record. */
export async function readRecord(session: Buffer): Promise<ReadSession> {
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

/** Where the seals of a record do not hold, and what stands after its last whole line. */
export function sealChanges({ broken, torn }: ReadSession): Change[] {
  return [
    ...broken.slice(0, 20).map(({ line, why }) => ({ where: `session.bwsession, line ${line}`, what: why })),
    ...(torn === null
      ? []
      : [{ where: "session.bwsession, the end", what: `${torn.bytes} bytes after the last whole record` }]),
  ];
}

/** Where a record is not whole, or not the one that the manifest states. */
export function recordChanges(read: ReadSession, { session }: ParcelManifest): Change[] {
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
