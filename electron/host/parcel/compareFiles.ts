import type { ParcelFileName } from "../../../core/report/parcelSchema.ts";
import { differencesOf, differenceText } from "./compareRecorded.ts";
import type { Change } from "./parcelTrouble.ts";
import { utf8 } from "./utf8.ts";

/** So many places of one file are told of. */
const MOST = 20;

/** Where values recorded in a file are not what they are now. */
export function compareFile(where: ParcelFileName, recorded: unknown, now: unknown): Change[] {
  const plain: unknown = JSON.parse(JSON.stringify(now));
  return differencesOf(recorded, plain)
    .slice(0, MOST)
    .map((difference) => ({ where, what: differenceText(difference) }));
}

/** Which values of a JSON file differ; the first line that does where it is no JSON any more, or only written otherwise. */
export function valuesChanged(name: ParcelFileName, there: Buffer, expected: Buffer): Change[] {
  try {
    const found = compareFile(name, JSON.parse(utf8(there)), JSON.parse(utf8(expected)));
    if (found.length > 0) return found;
  } catch {
    // No JSON: then the line must do.
  }
  return [firstOther(name, there, expected)];
}

/** The first line that differs. */
export function firstOther(name: ParcelFileName, there: Buffer, expected: Buffer): Change {
  let at = 0;
  while (at < there.length && there[at] === expected[at]) at += 1;
  const line = there.subarray(0, at).toString("latin1").split("\n").length;
  return { where: `${name}, line ${line}`, what: "it is not what the record gives" };
}
