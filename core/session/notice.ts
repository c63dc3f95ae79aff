import type { Ms } from "../gauge/ms.ts";

/** Every notice the data can raise; each has a sentence for the person at the bench and an entry in the help. */
export const NOTICE_CODES = [
  "polarity-reversed",
  "unit-mismatch",
  "zero-moved",
  "too-quick",
  "contact-lost",
  "no-agreement",
  "outlier",
  "same-place",
  "frozen",
  "out-of-range",
  "not-understood",
  "odd-lifter",
  "odd-bore",
  "turn-out",
  "same-bore",
  "step-failed",
  "temperature",
  "coarse-gauge",
  "link-lost",
  "torn-tail",
  "seal-broken",
  "return-due",
  "order-of-work",
] as const;
export type NoticeCode = (typeof NOTICE_CODES)[number];

/** Trouble as data: what, where, what to do; it goes away when cured. */
export interface Notice {
  readonly tMs: Ms;
  readonly code: NoticeCode;
  /** One or two sentences: what was seen and what to do. */
  readonly text: string;
  readonly gauge?: string;
  readonly bore?: string;
  readonly height?: string;
  readonly clock?: string;
  /** When it was cured; absent while it stands. */
  readonly curedMs?: Ms;
  /** So many earlier ones like it, all cured, are no longer listed; absent for none. */
  readonly unlisted?: number;
}
