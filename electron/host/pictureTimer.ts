/** Spaces pictures out: each comes as soon as it is asked for, but no sooner after the last one than it may. */
export class PictureTimer {
  readonly #draw: () => void;
  #lastMs = Number.NEGATIVE_INFINITY;
  #dueMs = Number.POSITIVE_INFINITY;
  #timer: NodeJS.Timeout | null = null;

  /** @param draw called when a picture that had to wait is due. */
  constructor(draw: () => void) {
    this.#draw = draw;
  }

  /**
   * Asks for a picture, `afterMs` (0 or more) after the last one at the soonest. True: it is due now and the caller draws
   * it; false: it is drawn later, at the earliest time asked for.
   */
  due(afterMs: number): boolean {
    const now = performance.now();
    const dueMs = this.#lastMs + afterMs;
    if (dueMs <= now) {
      this.stop();
      this.#lastMs = now;
      return true;
    }
    if (this.#timer !== null && this.#dueMs <= dueMs) return false;
    this.stop();
    this.#dueMs = dueMs;
    this.#timer = setTimeout(() => {
      this.#timer = null;
      this.#lastMs = performance.now();
      this.#draw();
    }, dueMs - now);
    return false;
  }

  /** Drops a picture that waits. */
  stop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }
}
