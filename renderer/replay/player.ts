import type { Bridge, Envelope, HostEvent, MethodName, OpenSession } from "../../core/bridge/messages.ts";
import { TRACE_MS } from "../store/trace.ts";
import type { Film, Moment } from "./film.ts";

/** Speeds of a replay, times the bench's. */
export const SPEEDS = [1, 8, 64] as const;

/**
 * Shows a recorded session as a host shows a live one: the same events through the same bridge, so that the same screens
 * draw it. It owns no clock; whoever draws tells it how much time went by.
 */
export class Player {
  readonly film: Film;
  readonly bridge: Bridge;
  readonly #session: OpenSession;
  #tMs = 0;
  /** How many moments and readings lie at or before `tMs`. */
  #moments = 0;
  #readings = 0;
  #listener: ((event: HostEvent) => void) | null = null;

  constructor(film: Film, identity: { readonly id: string; readonly name: string }) {
    this.film = film;
    const first = film.moments[0];
    if (first === undefined) throw new RangeError("nothing happened in this session");
    this.#session = {
      ...identity,
      readOnly: true,
      simulated: film.simulated,
      simulating: false,
      job: film.jobFile,
      view: first.view,
    };
    this.bridge = {
      call: async (method) => this.#answer(method) as Envelope<never>,
      listen: (onEvent) => {
        this.#listener = onEvent;
        this.seek(this.#tMs);
        return () => {
          this.#listener = null;
        };
      },
    };
  }

  get tMs(): number {
    return this.#tMs;
  }

  get atEnd(): boolean {
    return this.#tMs >= this.film.endMs;
  }

  /** What the screens show now. */
  get moment(): Moment {
    return this.film.moments[Math.max(0, this.#moments - 1)] as Moment;
  }

  /** Lets `ms` of the session's time go by; not negative. */
  advance(ms: number): void {
    this.#goOn(Math.min(this.film.endMs, this.#tMs + ms));
  }

  /** Goes to any time of the session; what lies outside is taken as its start or end. */
  seek(tMs: number): void {
    const target = Math.min(this.film.endMs, Math.max(0, tMs));
    // The trace and its marks are filled from as far back as they are shown.
    this.#tMs = target - TRACE_MS;
    this.#moments = firstAfter(this.film.moments, this.#tMs);
    this.#readings = firstAfter(this.film.readings, this.#tMs);
    this.#tell({ type: "session", session: null });
    this.#tell({ type: "session", session: { ...this.#session, view: this.moment.view } });
    this.#goOn(target);
  }

  /** Goes to the next sweep (1) or the one before (−1) and stops there; false when there is none. */
  stepSweep(direction: 1 | -1): boolean {
    const { moments } = this.film;
    const isSweep = (moment: Moment) => moment.outcomes.some(({ type }) => type === "sweep");
    const target =
      direction === 1
        ? moments.find((moment, index) => index >= this.#moments && isSweep(moment))
        : moments.findLast((moment) => moment.tMs < this.#tMs && isSweep(moment));
    if (target === undefined) return false;
    this.seek(target.tMs);
    return true;
  }

  #goOn(target: number): void {
    const { moments, readings } = this.film;
    const from = this.#readings;
    this.#tMs = target;
    this.#readings = firstAfter(readings, target, from);
    if (this.#readings > from) {
      this.#tell({ type: "readings", readings: readings.slice(from, this.#readings) });
    }
    const before = this.#moments;
    this.#moments = firstAfter(moments, target, before);
    for (const { outcomes } of moments.slice(before, this.#moments)) {
      for (const outcome of outcomes) this.#tell({ type: "outcome", outcome });
    }
    if (this.#moments > before) this.#tell({ type: "view", view: this.moment.view });
  }

  #answer(method: MethodName): Envelope<unknown> {
    switch (method) {
      case "app.info":
        return { ok: true, value: { version: "", shell: "loopback", folder: "", mayAct: false, writesPdf: false } };
      case "sessions.list":
        return { ok: true, value: { sessions: [] } };
      case "ports.list":
        return { ok: true, value: { ports: [] } };
      default:
        return { ok: false, code: "replay", message: "A replay can be looked at, not changed." };
    }
  }

  #tell(event: HostEvent): void {
    this.#listener?.(event);
  }
}

/** Index of the first entry later than `tMs`, from `from` on; entries are in order of time. */
function firstAfter(entries: readonly { readonly tMs: number }[], tMs: number, from = 0): number {
  let low = from;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((entries[middle] as { tMs: number }).tMs <= tMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
