/** Milliseconds since the start of the session; never goes back. */
export type Ms = number;

/** No session is longer, ms: some thirty years. A time beyond it is damage, and no computation would survive it. */
export const LONGEST_SESSION_MS = 1e12;
