import type { GaugeUnit } from "../../length/unit.ts";
import { type BitSeven, SEVEN_BIT_FRAMINGS } from "../bitSevenParity.ts";
import { type Learnt, learnLines } from "../learnLines.ts";
import type { Ms } from "../ms.ts";
import { isMostlyText, isText } from "../plainText.ts";
import { suspectFraming } from "../suspectFraming.ts";
import { endlessReadings } from "./endlessReadings.ts";
import { type HeardLine, inHex, type LineEnd, LineKeeper } from "./heardLine.ts";
import { likelyUnit } from "./likelyUnit.ts";
import { readAsSeven } from "./readAsSeven.ts";
import { timesSlower } from "./senderRate.ts";
import { CANDIDATES, POWERS, type SerialSetting, sameSetting } from "./serialSetting.ts";
import { heardInWords, teachSentence } from "./teachSentence.ts";
import type { TeachState, TeachView, TriedSetting } from "./teachView.ts";

/** Readings wanted before a gauge counts as understood; fewer prove nothing, since one may be damaged. */
const PRESSES = 3;
/** After so long without a byte a press is over. Between the pieces of one line a busy computer may leave a tenth. */
const QUIET_MS = 300;
/** Nothing for so long and the control lines are set otherwise; a person has pressed twice by then. */
const SILENT_MS = 8_000;
/** Bytes of a stream that has no pause, before they are judged. */
const JUDGE_BYTES = 80;
/** Newest bytes and lines kept of one opening. */
const MOST_BYTES = 512;
const MOST_LINES = 60;
/** A burst this short in which nothing is text comes from a much faster sender. */
const SHORT_BURST = 3;
/** What comes this soon after the power came on may be the gauge waking up, ms. */
const WAKING_MS = 1_000;
/** Plain lines that hold no reading, before the device is called none. */
const WRONG_LINES = 3;
const WRONG_BYTES = 24;
/** More bytes a second than this, over a second, are more than a gauge sends: its lines come 50 times a second at most. */
const FLOOD_BYTES = 4_000;
/** A stream is judged at most this often, ms. */
const JUDGE_MS = 100;
/** A stream of few bytes is judged after so long, ms. */
const LONG_MS = 1_500;
/** Bursts of text without a line end at one setting, before the next is tried. */
const ENDLESS_BURSTS = 2;

/**
 * Finds out how a gauge speaks, from what comes in while its data button is pressed or while it streams: speed, framing,
 * control lines, line format, unit and resolution. Pure: the caller opens the port by `setting`, brings the bytes with
 * their times, calls `pass` when `dueMs` has come, and opens the port anew whenever `setting` has become another.
 *
 * A press is not wasted where it can be read all the same: of 7 data bits read as 8 it is the reading, and at the wrong
 * speed it tells how many times slower the gauge is. Which framing is chosen for 7 data bits: `SEVEN_BIT_FRAMINGS`.
 */
export class Teaching {
  #setting: SerialSetting;
  #unit: GaugeUnit | null;
  #searching: boolean;
  #state: TeachState = "listening";
  #tried: TriedSetting[] = [];
  /** Candidates that were opened, as "baud framing". */
  readonly #opened = new Set<string>();
  #powersTried = 0;
  #openedMs: Ms | null = null;
  #keeper = new LineKeeper();
  #lines: HeardLine[] = [];
  /** How many of `#lines` were carried over from a setting at which they could be read. */
  #carried = 0;
  #bytes: number[] = [];
  #count = 0;
  #burst = 0;
  #lastMs: Ms | null = null;
  #junkMs: Ms | null = null;
  #doubt: string | null = null;
  #burstMs: Ms = 0;
  #bursts = 0;
  #rate: { fromMs: Ms; bytes: number } = { fromMs: 0, bytes: 0 };

  /**
   * @param options.start the setting to begin with; `search` false keeps it whatever comes.
   * @param options.unit what lines are in that name no unit, where a person has said it.
   */
  constructor(options: {
    readonly start?: SerialSetting;
    readonly search?: boolean;
    readonly unit?: GaugeUnit | null;
  }) {
    this.#setting = options.start ?? { ...(CANDIDATES[0] as (typeof CANDIDATES)[0]), dtr: true, rts: true };
    this.#searching = options.search ?? true;
    this.#unit = options.unit ?? null;
  }

  /** How the port is to be open now. */
  get setting(): SerialSetting {
    return this.#setting;
  }

  /** Bytes that came in since the port was opened by this setting. */
  get heardBytes(): number {
    return this.#count;
  }

  /** When `pass` would bring something about; null if it would not. */
  get dueMs(): Ms | null {
    if (this.#openedMs === null) return null;
    if (this.#lastMs !== null) return this.#burst > 0 ? this.#lastMs + QUIET_MS : null;
    return this.#searching ? this.#openedMs + SILENT_MS : null;
  }

  /** The port was opened by `setting`: what came before is no part of what comes now. */
  open(tMs: Ms): void {
    this.#openedMs = tMs;
    this.#opened.add(keyOf(this.#setting));
    this.#keeper = new LineKeeper();
    this.#bytes = [];
    this.#count = 0;
    this.#burst = 0;
    this.#bursts = 0;
    this.#lastMs = null;
    this.#junkMs = null;
    this.#doubt = null;
    this.#rate = { fromMs: tMs, bytes: 0 };
  }

  push(tMs: Ms, bytes: Uint8Array): void {
    if (this.#openedMs === null || bytes.length === 0) return;
    if (this.#state === "silent") this.#state = "listening";
    this.#lastMs = tMs;
    if (this.#burst === 0) this.#burstMs = tMs;
    this.#count += bytes.length;
    this.#burst += bytes.length;
    this.#bytes = [...this.#bytes, ...bytes].slice(-MOST_BYTES);
    this.#take(this.#keeper.push(tMs, bytes));
    if (tMs - this.#rate.fromMs > 1_000) this.#rate = { fromMs: tMs, bytes: 0 };
    this.#rate.bytes += bytes.length;
    const sinceMs = tMs - this.#burstMs;
    if (sinceMs >= LONG_MS || (this.#burst >= JUDGE_BYTES && sinceMs >= JUDGE_MS)) this.#judge(tMs, false);
  }

  /** Time has passed, with or without a byte. */
  pass(tMs: Ms): void {
    const due = this.dueMs;
    if (due === null || tMs < due) return;
    if (this.#lastMs === null) {
      this.#powerOtherwise();
      return;
    }
    const line = this.#keeper.quiet();
    if (line !== null) this.#take([line]);
    this.#judge(tMs, true);
  }

  /** A person says how the port is to be opened, or what the unit is. What was heard at another setting is dropped. */
  byHand(change: {
    readonly setting?: SerialSetting;
    readonly unit?: GaugeUnit | null;
    readonly search?: boolean;
  }): void {
    if (change.unit !== undefined) this.#unit = change.unit;
    const stays = change.setting === undefined || sameSetting(change.setting, this.#setting);
    if (change.search !== undefined) {
      this.#searching = change.search;
      if (change.search) this.#beginAgain(stays);
    }
    if (change.setting === undefined) return;
    this.#searching = change.search ?? false;
    if (stays) return;
    this.#leave();
    this.#setting = change.setting;
    this.#state = "listening";
  }

  view(): TeachView {
    const { taught, unit, unitFrom } = this.#learnt();
    const view = {
      state: this.#state,
      setting: this.#setting,
      searching: this.#searching,
      tried: this.#tried,
      lines: taught.lines
        .map((each, index) => ({ ...each, hex: inHex(this.#lines[index]?.bytes ?? []) }))
        .slice(-12)
        .map(({ hex, raw, understood, why }) => ({ hex, raw, understood, why })),
      format: taught.format,
      unit,
      unitFrom,
      resolutionNm: unit === null ? null : taught.resolutionNm,
      sends: taught.sends,
      lineEnd: commonEnd(this.#lines),
      settleMs: this.#settleMs(),
    };
    return {
      ...view,
      sentence: teachSentence({
        ...view,
        learnt: taught.text,
        understood: taught.lines.filter(({ understood }) => understood !== null).length,
        heard: this.#count,
        wanted: PRESSES,
        doubt: this.#doubt,
      }),
    };
  }

  // ---- judging ------------------------------------------------------------------------------------------------

  #take(lines: readonly HeardLine[]): void {
    if (lines.length > 0) this.#lines = [...this.#lines, ...lines].slice(-MOST_LINES);
  }

  #learnt(): { taught: Learnt; unit: GaugeUnit | null; unitFrom: TeachView["unitFrom"] } {
    const first = learnLines(this.#lines);
    if (first.unit !== null) return { taught: first, unit: first.unit, unitFrom: "lines" };
    const likely = likelyUnit(first);
    const unit = this.#unit ?? likely;
    if (unit === null) return { taught: first, unit: null, unitFrom: null };
    return { taught: learnLines(this.#lines, unit), unit, unitFrom: this.#unit === null ? "digits" : "hand" };
  }

  #judge(tMs: Ms, quiet: boolean): void {
    const burst = this.#burst;
    this.#burst = 0;
    this.#doubt = null;
    if (this.#state === "wrong") this.#reconsider();
    const { taught } = this.#learnt();
    const understood = taught.lines.filter((line) => line.understood !== null).length;
    const refused = taught.lines.length - understood;
    if (understood >= PRESSES && understood > refused && this.#lines.length - this.#carried >= PRESSES - 1) {
      this.#state = "found";
      return;
    }
    const recent = Uint8Array.from(this.#bytes.slice(-2 * JUDGE_BYTES));
    if (endlessReadings(this.#keeper.begun)) {
      this.#state = "no-end";
      return;
    }
    if (this.#isFlood(tMs)) {
      this.#state = "flood";
      return;
    }
    if (understood > 0) return;
    // What a gauge says while it wakes up is no reason to try another speed.
    const waking = (this.#lastMs ?? tMs) - (this.#openedMs ?? 0) < WAKING_MS;
    if (quiet && waking && burst <= SHORT_BURST && recent.some((byte) => !isText(byte))) {
      this.#junkMs = this.#lastMs;
      this.#bytes = [];
      this.#lines = this.#lines.slice(0, this.#carried);
      return;
    }
    // A stream is joined in the middle of a character; its rear is what was heard in step.
    const inStep = recent.length >= JUDGE_BYTES ? recent.slice(-JUDGE_BYTES / 2) : recent;
    if (!this.#searching) {
      this.#doubt = suspectFraming(inStep);
      if (this.#doubt !== null) return;
    }
    const seven = this.#setting.framing.startsWith("8") ? readAsSeven(inStep, recent, this.#lastMs ?? tMs) : null;
    if (seven !== null) {
      this.#leave(seven.parity);
      this.#state = "listening";
      this.#setting = { ...this.#setting, framing: SEVEN_BIT_FRAMINGS[seven.parity] };
      this.#lines = seven.lines;
      this.#carried = seven.lines.length;
      return;
    }
    if (isMostlyText(inStep) && this.#mayBeText()) return;
    this.#tryNext(inStep, burst);
  }

  /** Readings after plain text that was none: the gauge was set right, and what came before says nothing of them. */
  #reconsider(): void {
    const last = this.#learnt().taught.lines.findLastIndex(({ understood }) => understood === null);
    if (last === this.#lines.length - 1) return;
    this.#state = "listening";
    this.#lines = this.#lines.slice(last + 1);
    this.#carried = 0;
  }

  /** Plain text that is no reading is a device that is no gauge, once there is enough of it; false where it makes no lines. */
  #mayBeText(): boolean {
    const plain = this.#lines.filter(({ bytes, end }) => end !== "none" && bytes.every(isText));
    if (plain.length === 0) {
      this.#bursts += 1;
      return this.#bursts < ENDLESS_BURSTS;
    }
    const bytes = plain.reduce((sum, line) => sum + line.bytes.length, 0);
    if (plain.length >= WRONG_LINES && bytes >= WRONG_BYTES) this.#state = "wrong";
    return true;
  }

  #isFlood(tMs: Ms): boolean {
    return tMs - this.#rate.fromMs >= 500 && (this.#rate.bytes * 1000) / (tMs - this.#rate.fromMs) > FLOOD_BYTES;
  }

  #tryNext(heard: Uint8Array, burst: number): void {
    if (!this.#searching) return;
    const next = this.#nextCandidate(heard, burst);
    if (next === null) {
      this.#state = "babble";
      this.#searching = false;
      return;
    }
    this.#leave();
    this.#state = "listening";
    this.#setting = { ...this.#setting, ...next };
  }

  #nextCandidate(heard: Uint8Array, burst: number): (typeof CANDIDATES)[number] | null {
    const left = CANDIDATES.filter((one) => !this.#opened.has(keyOf(one)));
    const { baud: here, framing } = this.#setting;
    if (framing !== "8N1") return left[0] ?? null;
    const others = left.filter((one) => one.framing === "8N1");
    const slower = timesSlower(heard);
    if (slower !== null && slower > 1) {
      const likely = others.find(({ baud }) => baud * slower === here);
      if (likely !== undefined) return likely;
    }
    // Every other character right: the speed is, and a parity bit stands where the stop bit was expected.
    if (slower === 1 && heard.filter(isOfReading).length * 2 > heard.length) {
      const same = left.find(({ baud }) => baud === here);
      if (same !== undefined) return same;
    }
    const faster = others.filter(({ baud }) => baud > here);
    if (burst <= SHORT_BURST && faster.length > 0) return faster.reduce((a, b) => (b.baud > a.baud ? b : a));
    if (slower === 1 && faster[0] !== undefined) return faster[0];
    return left[0] ?? null;
  }

  #powerOtherwise(): void {
    this.#leave();
    this.#powersTried += 1;
    if (this.#powersTried >= POWERS.length) this.#state = "silent";
    // The next after the present one, wherever the search began: the same once more would not be opened anew.
    const here = POWERS.findIndex(({ dtr, rts }) => dtr === this.#setting.dtr && rts === this.#setting.rts);
    const power = POWERS[(here + 1) % POWERS.length] as (typeof POWERS)[0];
    this.#setting = { ...this.#setting, ...power };
  }

  /** Writes down what came by the present setting, and forgets it. */
  #leave(parity: BitSeven | null = null): void {
    const setting = this.#setting;
    if (this.#openedMs !== null && !this.#tried.some((one) => sameSetting(one.setting, setting))) {
      const heard = heardInWords(Uint8Array.from(this.#bytes), parity, this.#lines.length - this.#carried);
      this.#tried = [...this.#tried, { setting, bytes: this.#count, heard }];
    }
    this.#openedMs = null;
    this.#lines = [];
    this.#carried = 0;
  }

  /** @param stays whether the port stays open by the present setting, which is then heard already. */
  #beginAgain(stays: boolean): void {
    this.#tried = [];
    this.#opened.clear();
    if (stays && this.#openedMs !== null) this.#opened.add(keyOf(this.#setting));
    this.#powersTried = 0;
    this.#state = "listening";
  }

  #settleMs(): number {
    if (this.#junkMs === null || this.#openedMs === null) return 0;
    return Math.ceil((this.#junkMs - this.#openedMs + 50) / 100) * 100;
  }
}

/** A digit, a sign or a point. */
const isOfReading = (byte: number): boolean => byte >= 0x2b && byte <= 0x39;

const keyOf = ({ baud, framing }: Pick<SerialSetting, "baud" | "framing">): string => `${baud} ${framing}`;

/** How most of the lines ended; null before any. */
function commonEnd(lines: readonly HeardLine[]): LineEnd | null {
  const counts = new Map<LineEnd, number>();
  for (const { end } of lines) counts.set(end, (counts.get(end) ?? 0) + 1);
  let most: LineEnd | null = null;
  for (const [end, count] of counts) if (most === null || count > (counts.get(most) ?? 0)) most = end;
  return most;
}
