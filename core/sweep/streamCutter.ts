import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import { Hysteresis } from "./hysteresis.ts";
import { FARTHEST_NM, RockingPace } from "./rockingPace.ts";
import type { Pass, PassEnd, Sample } from "./sweep.ts";

/** What the stream of a gauge shows as it is cut into passes. */
export type CutterEvent =
  /** A pass closed: by the next maximum, the rocking stopping, the gauge leaving, contact lost, or the user. */
  | { readonly type: "pass"; readonly pass: Pass }
  /** No turning point for `STOP_MS`: the rocking has stopped. Comes once, and only after rocking. */
  | { readonly type: "stopped"; readonly tMs: Ms }
  /** The gauge is out of the bore. */
  | { readonly type: "withdrawn"; readonly tMs: Ms }
  /** Back inside the working range. */
  | { readonly type: "entered"; readonly tMs: Ms }
  /** A jump no rocking can make, inside the working range and while rocking. */
  | { readonly type: "contact-lost"; readonly tMs: Ms }
  /** One value repeated for `FROZEN_MS` while it should move. Comes once for each such run. */
  | { readonly type: "frozen"; readonly tMs: Ms };

/** Without a turning point for so long the rocking has stopped, ms. */
export const STOP_MS = 1200;
/** One value for so long is a frozen stream if the gauge should be moving, ms. */
const FROZEN_MS = 3000;
/** Beyond the range for so long is out of the bore: rocking at 0.5 Hz and 13° stays above for under 0.5 s, ms. */
const OUT_MS = 700;
/** So far beyond the range is out of the bore at once: it would take a tilt of over 20°, nm. */
const OUT_BY_NM = 1_000_000;
/** How far below the reading in the air a gauge must come to be inside again when the range is not known, nm. */
const BACK_BY_NM = 300_000;
/** What is kept of a stream that does not rock, ms. */
const RECENT_MS = 1000;
/** More samples than any gauge sends in a pass: a stream whose time stands still must not fill the memory. */
const MOST_SAMPLES = 20_000;
/** A jump upwards may be the gauge being drawn out: for so long it is not yet called a loss of contact, ms. */
const LEAVING_MS = 400;
/** Jumps within so long belong to one loss of contact, ms. */
const SAME_LOSS_MS = 1000;
/**
 * A value shown for so long, and so many times, then one far off, is a display that stood still, ms. Our choice: longer
 * than the slowest display shows one reading (200 ms, at 5 a second), and shorter than a swing at 1 Hz (500 ms).
 */
const STUCK_MS = 300;
const STUCK_READINGS = 4;
/** How far back to look for the movement that a frozen stream broke off, ms; a slow display has only its last interval. */
const ABRUPT_MS = 40;
/**
 * Share of the fastest movement of these sweeps that a hand does not stop from at once; it slows down before a stop. Our
 * choice, by the simulated bench.
 */
const ABRUPT_SHARE = 0.6;
/**
 * A hole in the stream longer than this, and than four usual intervals, breaks off the pass in progress, ms. Our choice:
 * a whole swing at 1 Hz, so that turning points may lie in the hole.
 */
const GAP_MS = 500;
const NOTHING: readonly CutterEvent[] = Object.freeze([]);

/**
 * Where the reading goes: `seek` has seen no turning point yet, `fall` follows the reading down from a maximum, `rise`
 * follows it up from a minimum, `leaving` waits to see whether a jump upwards was the way out.
 */
type Phase = "outside" | "seek" | "fall" | "rise" | "leaving";

/**
 * Cuts the readings of one gauge into passes at the maxima of its rocking, with hysteresis. A pass runs from a maximum
 * (included) up to the next (excluded: it begins the next pass), and has a real fall before and a real rise after its
 * minimum, each at least the hysteresis. The way in, and what follows the last maximum when the rocking stops, is no
 * pass.
 *
 * Deterministic and free of clocks: what it does depends only on the samples and times given. Times never go back; a
 * sample stamped earlier than the one before is taken at that one's time. Memory is bounded whatever the stream does.
 */
export class StreamCutter {
  readonly #hysteresis: Hysteresis;
  readonly #pace = new RockingPace();
  readonly #resolutionNm: number;
  #farNm: number = Number.POSITIVE_INFINITY;
  #phase: Phase = "seek";
  /** Samples since the maximum that began the present pass, or the recent ones in `seek`. */
  #buffer: Sample[] = [];
  /** Indices into the buffer. */
  #highest = 0;
  #lowest = 0;
  /** A fall from a maximum and a rise came, so that the next maximum closes a pass. */
  #complete = false;
  #lastMs: Ms = Number.NEGATIVE_INFINITY;
  #lastNm = Number.NaN;
  #intervalMs = 0;
  #turnMs: Ms = Number.NEGATIVE_INFINITY;
  /** A turning point was seen, and no stop since. */
  #rocking = false;
  /** A pass was seen since the gauge came here. */
  #rockedHere = false;
  #aboveSinceMs: Ms | null = null;
  #airNm = Number.NEGATIVE_INFINITY;
  #lossMs: Ms = Number.NEGATIVE_INFINITY;
  /** In `leaving`: the phase that the jump broke off, and when. */
  #broken: Phase = "seek";
  #brokenMs: Ms = 0;
  #runStartMs: Ms = 0;
  #runLength = 0;
  #runAbrupt = false;
  #runReported = false;
  #motionExpected = false;

  /** @param options.resolutionNm smallest step of the display, nm, positive. */
  constructor(options: { readonly resolutionNm: Nm }) {
    this.#resolutionNm = options.resolutionNm;
    this.#hysteresis = new Hysteresis(options.resolutionNm);
  }

  /**
   * Readings above `farNm` (nm, signed, polarity applied) are outside any bore; null if that is not known, as before
   * the zero: the gauge then leaves only by a jump no rocking can make, or by its size. A brisk rocking may go above it
   * for a moment and is not out for that.
   */
  setFar(farNm: Nm | null): void {
    this.#farNm = farNm ?? Number.POSITIVE_INFINITY;
  }

  /**
   * Says whether the gauge ought to be rocking, as at an open station where sweeps have begun. While it ought to, any
   * value repeated for `FROZEN_MS` is `frozen`; otherwise only one that broke off a movement is, so that a gauge at rest
   * between stations raises no alarm. Off to begin with.
   */
  expectMotion(expected: boolean): void {
    this.#motionExpected = expected;
  }

  /** Takes the next reading. Returns what it brought about, in order; mostly nothing. */
  push(sample: Sample): readonly CutterEvent[] {
    const tMs = Math.max(sample.tMs, this.#lastMs);
    const at = tMs === sample.tMs ? sample : { ...sample, tMs };
    const value = at.valueNm;
    const elapsed = tMs - this.#lastMs;
    let events = this.#stopIfDue(tMs);
    if (elapsed > GAP_MS && elapsed > 4 * this.#intervalMs) {
      this.#seek();
      this.#lastNm = Number.NaN;
    } else if (elapsed > 0) {
      this.#intervalMs += (elapsed - this.#intervalMs) / (this.#intervalMs === 0 ? 1 : 16);
    }
    const change = value - this.#lastNm;
    const stuck = this.#runLength >= STUCK_READINGS && tMs - this.#runStartMs >= STUCK_MS;
    if (change === 0) {
      if (this.#repeats(tMs)) events = [...events, { type: "frozen", tMs }];
    } else {
      this.#runStartMs = tMs;
      this.#runLength = 1;
      this.#runReported = false;
    }
    this.#lastMs = tMs;
    this.#lastNm = value;

    if (this.#phase === "outside") {
      if (this.#isBack(value)) {
        events = [...events, { type: "entered", tMs }];
        this.#pace.forget();
        this.#rockedHere = false;
        this.#seek(at);
      } else if (value > this.#airNm) {
        this.#airNm = value;
      }
      return events;
    }
    if (stuck && this.#phase !== "seek" && Math.abs(change) > this.#hysteresis.thresholdNm) {
      // The display stood still and goes on elsewhere, and the jump is none of the contact's. A pass that was still falling
      // has a hole in it; one that had risen was over when the hand rested at the end of its swing.
      if (this.#phase === "rise" && this.#complete) {
        events = [...events, { type: "pass", pass: this.#close("stopped", this.#arrival(this.#highest) + 1) }];
      }
      this.#seek(at);
      return events;
    }
    const jumps = Math.abs(change) > this.#pace.largestChangeNm(elapsed);
    if (this.#leaves(value, change, jumps, tMs)) return this.#withdraw(events, value, tMs);
    if (this.#phase === "leaving") {
      if (change >= 0 && tMs - this.#brokenMs <= LEAVING_MS) return events;
      this.#phase = this.#broken;
      return this.#loseContact(events, at);
    }
    if (jumps && change > 0 && this.#rocking) {
      this.#broken = this.#phase;
      this.#brokenMs = tMs;
      this.#phase = "leaving";
      return events;
    }
    if (jumps) return this.#loseContact(events, at);
    const closed = this.#follow(at);
    return closed === null ? events : [...events, { type: "pass", pass: closed }];
  }

  /** When silence alone would bring an event, ms; null if it would not. */
  silenceDueMs(): Ms | null {
    return this.#rocking ? this.#turnMs + STOP_MS : null;
  }

  /** Says that no reading came up to `tMs`. */
  silence(tMs: Ms): readonly CutterEvent[] {
    return this.#stopIfDue(tMs);
  }

  /**
   * Closes the sweep now, by hand, with its smallest reading so far: everything since the last maximum, or of the last
   * second if there was none. Nothing comes of it in the air, or without a reading since the last one taken.
   */
  take(tMs: Ms): readonly CutterEvent[] {
    const events = this.#stopIfDue(tMs);
    const sinceMs = this.#phase === "seek" ? tMs - RECENT_MS : Number.NEGATIVE_INFINITY;
    const samples = this.#buffer.filter((sample) => sample.tMs >= sinceMs);
    if (samples.length === 0) return events;
    this.#seek();
    this.#rockedHere = true;
    // What is left of the rise is no new pass: the next one begins at the next maximum.
    this.#phase = "rise";
    this.#turnMs = tMs;
    this.#rocking = true;
    return [...events, { type: "pass", pass: { samples, end: "taken" } }];
  }

  /** The cable was pulled: the pass in progress is dropped, and the next reading is the first of a new stream. */
  interrupt(): void {
    this.#seek();
    this.#rocking = false;
    this.#lastNm = Number.NaN;
    this.#intervalMs = 0;
  }

  #stopIfDue(tMs: Ms): readonly CutterEvent[] {
    if (!this.#rocking && this.#phase !== "fall" && this.#phase !== "rise") return NOTHING;
    const dueMs = this.#turnMs + STOP_MS;
    if (tMs < dueMs) return NOTHING;
    const events: CutterEvent[] = [];
    if (this.#complete) {
      events.push({ type: "pass", pass: this.#close("stopped", this.#arrival(this.#highest) + 1) });
    }
    if (this.#rocking) events.push({ type: "stopped", tMs: dueMs });
    // The next place may be rocked more briskly: that would be no loss of contact.
    this.#pace.forget();
    this.#rocking = false;
    this.#hysteresis.calm();
    this.#seek();
    return events;
  }

  /** Looks for the first turning point of a new rocking, beginning with `sample` if there is one. */
  #seek(sample?: Sample): void {
    this.#phase = "seek";
    this.#buffer = sample === undefined ? [] : [sample];
    this.#highest = 0;
    this.#lowest = 0;
    this.#complete = false;
    this.#aboveSinceMs = null;
    this.#hysteresis.apart();
  }

  #isBack(value: number): boolean {
    if (this.#farNm !== Number.POSITIVE_INFINITY) return value <= this.#farNm;
    return value <= this.#airNm - BACK_BY_NM;
  }

  #leaves(value: number, change: number, jumps: boolean, tMs: Ms): boolean {
    if (this.#farNm === Number.POSITIVE_INFINITY) {
      if (jumps && change > FARTHEST_NM) return true;
      const lowest = this.#buffer[this.#lowest];
      // A jump that goes on beyond any swing is the way out.
      const out = this.#phase === "leaving" ? FARTHEST_NM : OUT_BY_NM;
      return lowest !== undefined && value - lowest.valueNm > out;
    }
    if (value <= this.#farNm) {
      this.#aboveSinceMs = null;
      return false;
    }
    if (this.#phase === "leaving") return true;
    this.#aboveSinceMs ??= tMs;
    return value > this.#farNm + OUT_BY_NM || (jumps && change > 0) || tMs - this.#aboveSinceMs >= OUT_MS;
  }

  #withdraw(events: readonly CutterEvent[], value: number, tMs: Ms): readonly CutterEvent[] {
    const out = [...events];
    if (this.#complete) {
      // The way out is no rise of a sweep: only what was inside the range counts.
      let top = this.#lowest;
      for (let index = this.#lowest; index < this.#buffer.length; index += 1) {
        const { valueNm } = this.#buffer[index] as Sample;
        if (valueNm > this.#farNm) break;
        if (valueNm >= (this.#buffer[top] as Sample).valueNm) top = index;
      }
      const rise = (this.#buffer[top] as Sample).valueNm - (this.#buffer[this.#lowest] as Sample).valueNm;
      if (rise >= this.#hysteresis.thresholdNm) {
        out.push({ type: "pass", pass: this.#close("withdrawn", this.#arrival(top) + 1) });
      }
    }
    out.push({ type: "withdrawn", tMs });
    this.#seek();
    this.#phase = "outside";
    this.#airNm = value;
    this.#rocking = false;
    this.#hysteresis.calm();
    return out;
  }

  #loseContact(events: readonly CutterEvent[], sample: Sample): readonly CutterEvent[] {
    const { tMs } = sample;
    const out = [...events];
    const known = tMs - this.#lossMs <= SAME_LOSS_MS;
    // Without rocking a jump is handling: the gauge was set somewhere else.
    if (this.#rocking) {
      this.#lossMs = tMs;
      if (!known) {
        const inPass = this.#phase === "fall" || this.#complete;
        if (inPass) out.push({ type: "pass", pass: { samples: this.#buffer, end: "contact-lost" } });
        out.push({ type: "contact-lost", tMs });
        this.#pace.widen();
      }
    }
    this.#seek(sample);
    return out;
  }

  /** Follows the reading within the range; returns the pass that this sample closed, if any. */
  #follow(sample: Sample): Pass | null {
    const threshold = this.#hysteresis.thresholdNm;
    const buffer = this.#buffer;
    const value = sample.valueNm;
    if (buffer.length >= MOST_SAMPLES) {
      this.#seek(sample);
      return null;
    }
    this.#hysteresis.watch(value);
    buffer.push(sample);
    const newest = buffer.length - 1;
    if (this.#phase === "seek") {
      this.#keepRecent(sample.tMs);
      const highest = this.#buffer[this.#highest] as Sample;
      const lowest = this.#buffer[this.#lowest] as Sample;
      if (highest.valueNm - value >= threshold) {
        this.#highest = this.#departure();
        this.#beginFall();
      } else if (value - lowest.valueNm >= threshold) this.#beginRise(this.#lowest, false);
      return null;
    }
    if (this.#phase === "fall") {
      const lowest = buffer[this.#lowest] as Sample;
      if (value < lowest.valueNm) this.#lowest = newest;
      else if (value - lowest.valueNm >= threshold) {
        this.#rocking = true;
        this.#beginRise(this.#lowest, true);
      }
      return null;
    }
    const highest = buffer[this.#highest] as Sample;
    if (value >= highest.valueNm) {
      this.#highest = newest;
      return null;
    }
    if (highest.valueNm - value < threshold) return null;
    this.#rocking = true;
    const pass = this.#complete ? this.#close("turned", this.#highest) : null;
    this.#beginFall();
    return pass;
  }

  /** The highest sample is a maximum: a pass begins there. */
  #beginFall(): void {
    this.#buffer = this.#buffer.slice(this.#highest);
    this.#highest = 0;
    this.#lowest = lowestFrom(this.#buffer, 0);
    this.#phase = "fall";
    this.#complete = false;
    this.#turnMs = (this.#buffer[0] as Sample).tMs;
  }

  /** The sample at `lowest` is a minimum; `complete` if a fall from a maximum led to it. */
  #beginRise(lowest: number, complete: boolean): void {
    this.#phase = "rise";
    this.#complete = complete;
    this.#turnMs = (this.#buffer[lowest] as Sample).tMs;
    if (!complete) {
      this.#buffer = this.#buffer.slice(lowest);
      this.#lowest = 0;
    }
    this.#highest = highestFrom(this.#buffer, this.#lowest + 1);
  }

  /** Where the fall left the height of the highest sample, but for the hysteresis: what came before is rest. */
  #departure(): number {
    const height = (this.#buffer[this.#highest] as Sample).valueNm - this.#hysteresis.thresholdNm / 2;
    return this.#buffer.findLastIndex((sample) => sample.valueNm >= height);
  }

  /** Where the rise first came to the height of `top`, but for the hysteresis: what follows is rest, not rocking. */
  #arrival(top: number): number {
    const height = (this.#buffer[top] as Sample).valueNm - this.#hysteresis.thresholdNm / 2;
    let index = this.#lowest;
    while ((this.#buffer[index] as Sample).valueNm < height) index += 1;
    return index;
  }

  /** The pass in the buffer up to `end` (excluded); what a whole swing teaches of the rocking is kept. */
  #close(end: PassEnd, until: number): Pass {
    if (end === "turned") {
      const first = this.#buffer[0] as Sample;
      const lowest = this.#buffer[this.#lowest] as Sample;
      const top = this.#buffer[until] as Sample;
      const fall = first.valueNm - lowest.valueNm;
      const rise = top.valueNm - lowest.valueNm;
      this.#hysteresis.swept(Math.min(fall, rise));
      this.#pace.swept(Math.max(fall, rise), top.tMs - first.tMs);
    }
    this.#rockedHere = true;
    return { samples: this.#buffer.slice(0, until), end };
  }

  /** Forgets what is older than `RECENT_MS`, so that a slow creep is no fall and an idle stream takes no memory. */
  #keepRecent(tMs: Ms): void {
    const buffer = this.#buffer;
    const oldestMs = tMs - RECENT_MS;
    let old = 0;
    while (old < buffer.length - 1 && (buffer[old] as Sample).tMs < oldestMs) old += 1;
    if (old > 0) buffer.splice(0, old);
    this.#highest -= old;
    this.#lowest -= old;
    const newest = buffer.length - 1;
    const value = (buffer[newest] as Sample).valueNm;
    if (this.#highest < 0) this.#highest = highestFrom(buffer, 0);
    else if (value >= (buffer[this.#highest] as Sample).valueNm) this.#highest = newest;
    if (this.#lowest < 0) this.#lowest = lowestFrom(buffer, 0);
    else if (value <= (buffer[this.#lowest] as Sample).valueNm) this.#lowest = newest;
  }

  /** The reading repeats; true if it has done so for long enough, and wrongly, and was not reported yet. */
  #repeats(tMs: Ms): boolean {
    this.#runLength += 1;
    if (this.#runLength === 2) this.#runAbrupt = this.#brokeOff();
    if (this.#runReported || this.#phase === "outside" || !this.#rockedHere) return false;
    if (tMs - this.#runStartMs < FROZEN_MS) return false;
    if (!this.#runAbrupt && !this.#motionExpected) return false;
    this.#runReported = true;
    return true;
  }

  /** Whether the reading moved so fast just before it began to repeat that no hand could have stopped it there. */
  #brokeOff(): boolean {
    if (this.#phase !== "fall" && this.#phase !== "rise") return false;
    // The reading that repeats may have been caught in the middle of an interval; a fast display shows the whole ones.
    let index = this.#buffer.length - 1;
    const before = this.#buffer[index - 1];
    if (before !== undefined && this.#runStartMs - before.tMs <= ABRUPT_MS / 2) index -= 1;
    const last = this.#buffer[index];
    if (last === undefined) return false;
    while (index >= 0 && (this.#buffer[index] as Sample).tMs > last.tMs - ABRUPT_MS) index -= 1;
    const earlier = this.#buffer[index];
    if (earlier === undefined) return false;
    const moved = Math.abs(last.valueNm - earlier.valueNm);
    const fastest = this.#pace.steepestNmPerMs * (last.tMs - earlier.tMs);
    return moved >= Math.max(4 * this.#resolutionNm, ABRUPT_SHARE * fastest);
  }
}

/** Index of the highest of the samples from `from` on, the last of equals. */
function highestFrom(samples: readonly Sample[], from: number): number {
  let highest = from;
  for (let index = from + 1; index < samples.length; index += 1) {
    if ((samples[index] as Sample).valueNm >= (samples[highest] as Sample).valueNm) highest = index;
  }
  return highest;
}

/** Index of the lowest of the samples from `from` on, the last of equals. */
function lowestFrom(samples: readonly Sample[], from: number): number {
  let lowest = from;
  for (let index = from + 1; index < samples.length; index += 1) {
    if ((samples[index] as Sample).valueNm <= (samples[lowest] as Sample).valueNm) lowest = index;
  }
  return lowest;
}
