/**
 * Time of a session in whole ms since its start. It runs by a clock that nobody can set, so it never goes back; the
 * clock on the wall is asked only how long the session lay closed, and not believed when it says less than nothing.
 */
export class SessionClock {
  readonly #now: () => number;
  readonly #zero: number;
  #last: number;

  /**
   * @param fromMs time of the last event on file; the clock goes on from there
   * @param now a monotonic clock, ms
   */
  constructor(fromMs: number, now: () => number = () => performance.now()) {
    this.#now = now;
    this.#last = Math.ceil(fromMs);
    this.#zero = now() - this.#last;
  }

  /** Goes on with a session that was begun at `createdIso` and last written at `lastMs`. */
  static resume(lastMs: number, createdIso: string, wallMs: number, now?: () => number): SessionClock {
    const since = wallMs - Date.parse(createdIso);
    const from = Number.isFinite(since) ? Math.max(lastMs, Math.round(since)) : lastMs;
    return new SessionClock(from, now);
  }

  /** Never less than the last answer. */
  nowMs(): number {
    this.#last = Math.max(this.#last, Math.round(this.#now() - this.#zero));
    return this.#last;
  }
}
