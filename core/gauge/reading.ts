import type { Nm } from "../length/nm.ts";

/** Milliseconds since the start of the session; never goes back. */
export type Ms = number;

/**
 * A line understood. `valueNm` is signed and already has the gauge's polarity applied: it grows as the measured size
 * grows, so the true value of a rocking sweep is always its smallest.
 */
export interface Reading {
  readonly tMs: Ms;
  readonly gauge: string;
  readonly valueNm: Nm;
}
