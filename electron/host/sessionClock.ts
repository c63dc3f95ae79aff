import { uptime } from "node:os";

const monotonicMs = () => performance.now();
/** Counts a computer's sleep, which the monotonic clock of some systems leaves out. */
const sinceBootMs = () => uptime() * 1000;
/** The two are read one after the other, and one of them in steps of up to a second. */
const SLEPT_MS = 2500;

/**
 * Time of a session in whole ms since its start. It runs by clocks that nobody can set, so it never goes back, and it
 * goes on while the computer sleeps; the clock on the wall is asked only how long the session lay closed, and not
 * believed when it says less than nothing.
 */
export class SessionClock {
  readonly #now: () => number;
  readonly #sinceBoot: () => number;
  readonly #zero: number;
  /** How far the time since the start of the computer was ahead of `now` at the beginning, ms. */
  readonly #ahead: number;
  #sleptMs = 0;
  #last: number;

  /**
   * @param fromMs time of the last event on file; the clock goes on from there
   * @param now a monotonic clock, ms
   * @param sinceBoot another that goes on while the computer sleeps, ms; by default the system's own
   */
  constructor(
    fromMs: number,
    now: () => number = monotonicMs,
    sinceBoot: () => number = now === monotonicMs ? sinceBootMs : now,
  ) {
    this.#now = now;
    this.#sinceBoot = sinceBoot;
    this.#last = Math.ceil(fromMs);
    this.#zero = now() - this.#last;
    this.#ahead = sinceBoot() - now();
  }

  /** Goes on with a session that was begun at `createdIso` and last written at `lastMs`. */
  static resume(lastMs: number, createdIso: string, wallMs: number, now?: () => number): SessionClock {
    const since = wallMs - Date.parse(createdIso);
    const from = Number.isFinite(since) ? Math.max(lastMs, Math.round(since)) : lastMs;
    return new SessionClock(from, now);
  }

  /** Never less than the last answer. */
  nowMs(): number {
    const now = this.#now();
    const slept = this.#sinceBoot() - now - this.#ahead;
    if (slept - this.#sleptMs > SLEPT_MS) this.#sleptMs = slept;
    this.#last = Math.max(this.#last, Math.round(now - this.#zero + this.#sleptMs));
    return this.#last;
  }
}
