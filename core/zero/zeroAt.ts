import type { Ms } from "../gauge/ms.ts";
import type { JudgedReference } from "./reference.ts";

/** The zero in force at one moment, and what is known of its holding. */
export type ZeroAt =
  /** No reference had closed by then. */
  | { readonly state: "none" }
  /**
   * The next return check did not hold, so no verdict may stand on this zero. `from` and `to` are the two values, nm,
   * signed, the zero moved between.
   */
  | {
      readonly state: "moved";
      readonly from: number;
      readonly to: number;
      readonly before: JudgedReference;
      readonly after: JudgedReference;
    }
  /** `held`: a return check that held came after; `unchecked`: none has come yet, or a new zero was made instead. */
  | {
      readonly state: "held" | "unchecked";
      /** Zero to subtract, nm, signed: interpolated linearly in time; not rounded. */
      readonly valueNm: number;
      /** |return| between the two references, nm, not negative; 0 if unchecked. */
      readonly driftNm: number;
      readonly before: JudgedReference;
      readonly after: JudgedReference | null;
    };

/**
 * The zero for a station that closed at `tMs`: between the last reference at or before that moment and the first after
 * it. References come in the order of their times. Drift between two checks is taken as steady, so the value is
 * interpolated linearly in time (our choice; half the return enters the uncertainty for what it may have done instead).
 */
export function zeroAt(references: readonly JudgedReference[], tMs: Ms): ZeroAt {
  const index = references.findLastIndex((reference) => reference.tMs <= tMs);
  const before = references[index];
  if (before === undefined) return { state: "none" };
  const after = references[index + 1];
  if (after === undefined || after.kind === "zero") {
    return { state: "unchecked", valueNm: before.valueNm, driftNm: 0, before, after: null };
  }
  if (!after.held) return { state: "moved", from: before.valueNm, to: after.valueNm, before, after };
  const share = (tMs - before.tMs) / (after.tMs - before.tMs);
  return {
    state: "held",
    valueNm: before.valueNm + share * (after.valueNm - before.valueNm),
    driftNm: Math.abs(after.valueNm - before.valueNm),
    before,
    after,
  };
}
