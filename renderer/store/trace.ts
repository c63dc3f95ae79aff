import type { LiveReading } from "../../core/bridge/messages.ts";

/** How far back a trace goes, ms. */
export const TRACE_MS = 20_000;

/**
 * The last 20 s of live readings of one gauge, oldest first. It is filled in place (a stream may bring fifty readings
 * a second), so a reader watches `traceCount` of the store and then asks for `readings()`.
 */
export class TraceRing {
  #readings: LiveReading[] = [];
  #first = 0;

  /** Adds a reading; time that goes back (another session) empties the ring first. */
  push(reading: LiveReading): void {
    const last = this.#readings[this.#readings.length - 1];
    if (last !== undefined && reading.tMs < last.tMs) this.clear();
    this.#readings.push(reading);
    while ((this.#readings[this.#first]?.tMs ?? reading.tMs) < reading.tMs - TRACE_MS) this.#first += 1;
    // Dropping the head only now and then keeps a push cheap.
    if (this.#first > 1024) {
      this.#readings = this.#readings.slice(this.#first);
      this.#first = 0;
    }
  }

  /** A copy, oldest first; empty before the first reading. */
  readings(): LiveReading[] {
    return this.#readings.slice(this.#first);
  }

  clear(): void {
    this.#readings = [];
    this.#first = 0;
  }
}
