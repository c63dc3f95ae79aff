import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { Sweep } from "../sweep/sweep.ts";

/** A station value of the bore gauge in the locked micrometer: the first zero, or a return check of it. */
export interface Reference {
  /** When it closed. */
  readonly tMs: Ms;
  readonly valueNm: Nm;
  /** Range of its kept sweeps, nm, not negative. */
  readonly spreadNm: Nm;
  readonly sweeps: readonly Sweep[];
  /** `zero` starts a new reference; `return` measures the one before it again. */
  readonly kind: "zero" | "return";
  /** Lifter the micrometer was set to; null when the operator did not say. */
  readonly lifter: string | null;
}

/** A reference with what the return checks say of it. */
export interface JudgedReference extends Reference {
  /** This value minus the one before it, nm, signed; 0 for a new zero. */
  readonly returnNm: Nm;
  /** False when |returnNm| is larger than the job's `zeroHold`; a new zero holds. */
  readonly held: boolean;
}
