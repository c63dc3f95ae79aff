/** Milliseconds since the start of the session; never goes back. */
export type Ms = number;
