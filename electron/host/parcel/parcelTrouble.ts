import { errorText } from "../../../core/length/shownText.ts";
import type { ParcelCheck } from "../../../core/report/parcelSchema.ts";

/** Something in a parcel that is not as it was made: where, and what. */
export type Change = ParcelCheck["changes"][number];

/**
 * Why a parcel is not intact: `unreadable` when it is no parcel or is refused, `changed` when something in it is not as
 * it was made. `where` is the file in the parcel or the place in its bytes.
 */
export class ParcelTrouble extends Error {
  override readonly name = "ParcelTrouble";
  readonly outcome: "changed" | "unreadable";
  readonly where: string;
  constructor(outcome: "changed" | "unreadable", where: string, message: string) {
    super(errorText(message));
    this.outcome = outcome;
    this.where = where;
  }
}

export const changed = (where: string, what: string): ParcelTrouble => new ParcelTrouble("changed", where, what);
export const unreadable = (where: string, why: string): ParcelTrouble => new ParcelTrouble("unreadable", where, why);
