import type { LiveReading, OperatorAction } from "../../core/bridge/messages.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { LinkState, SessionInput, StepName } from "../../core/session/event.ts";
import type { NextStep } from "../../core/session/guide.ts";
import type { JobGauge } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import type { Recording } from "../../core/session/recording.ts";
import type { SessionView, ViewChange } from "../../core/session/view.ts";
import { GaugeLink, type LinkLoss } from "./gaugeLink.ts";
import type { GaugePort } from "./gaugePort.ts";
import { PictureTimer } from "./pictureTimer.ts";
import type { SessionClock } from "./sessionClock.ts";
import type { SessionFile } from "./sessionFile.ts";

/** An event before it has its time. */
export type Untimed = SessionInput extends infer Event
  ? Event extends SessionInput
    ? Omit<Event, "t">
    : never
  : never;

export interface LiveSessionListener {
  /** What happened, after its record is on disk; never before, and not at all while the disk refuses. */
  onOutcome?(outcome: Outcome): void;
  /** A snapshot whose every event is on disk; at most 100 a second unless an outcome came with it. */
  onView?(view: ViewChange): void;
  /** Live readings, at most 100 times a second. Not measurement, only what is seen. */
  onReadings?(readings: readonly LiveReading[]): void;
}

export interface LiveSessionOptions {
  readonly recording: Recording;
  readonly file: SessionFile;
  readonly clock: SessionClock;
  readonly listener: LiveSessionListener;
  /** Which step to move on to without being asked; by default what the guide may do by itself. */
  readonly moveOn?: (next: NextStep, from: StepName | null) => Untimed | null;
  /** A gauge's port came or went; `lost` says what happened to a lost one. */
  readonly onLink?: (gauge: string, link: LinkState, lost: LinkLoss | null) => void;
}

export interface LinkSettings {
  readonly newPort: () => GaugePort;
  /** Where the gauge is, for the record. */
  readonly path: string;
  readonly settleMs?: number;
  readonly lineMs?: number;
  readonly retryMs?: number;
}

/** How the session stood at a record; null once it was shown or a newer one has taken its place. */
interface Picture {
  view: ViewChange | null;
}

/** Between two pictures of the gauge that is worked with, ms: less than a screen's, so that none waits for two of them. */
const PICTURE_MS = 10;
/** The same of a gauge that lies by, and how long its lines may wait for the disk: no press may wait for either. */
const LYING_BY_MS = 100;
/** A picture of the whole session for such a line shows no more than that the gauge is still there, ms. */
const LYING_BY_PICTURE_MS = 500;
/** How long after the last sweep the findings of the other bores follow, ms: before anyone looks there. */
const FINDINGS_MS = 150;
/** However quickly the sweeps come, they follow so soon after the station, ms. */
const FINDINGS_LATEST_MS = 1000;
/** They follow by so many at once, and so far apart, ms: a press in between is on screen before the rest of them. */
const FINDINGS_AT_ONCE = 2;
const FINDINGS_APART_MS = 40;
/** More steps in a row than any walk takes by itself; beyond it the guide goes round in a circle. */
const MOST_STEPS_IN_A_ROW = 8;
const HEARTBEAT_MS = 1000;
/**
 * The program was not there for so long: the computer slept, or was held up. Lines that wait in a port then come all at
 * once and would be given a wrong time. Our choice: longer than a slow computer stands still, shorter than a lid is shut.
 */
const ASLEEP_MS = 10_000;

/**
 * A session while it is worked on: what the gauges send and the operator does is given its time, recorded, written to
 * disk, and only then announced.
 */
export class LiveSession {
  readonly recording: Recording;
  readonly #file: SessionFile;
  readonly #clock: SessionClock;
  readonly #listener: LiveSessionListener;
  readonly #moveOn: (next: NextStep, from: StepName | null) => Untimed | null;
  readonly #onLink: LiveSessionOptions["onLink"];
  readonly #links = new Map<string, GaugeLink>();
  #silenceTimer: NodeJS.Timeout | null = null;
  readonly #viewTimer = new PictureTimer(() => this.#showWhenKept());
  readonly #readingsTimer = new PictureTimer(() => this.#tellReadings());
  #readings: LiveReading[] = [];
  /** Pictures that wait for the disk, at most two: the next to be shown, and the newest. */
  readonly #waiting: Picture[] = [];
  /** Bores where a station was closed since the last picture. */
  readonly #measured = new Set<string>();
  /** Bores whose findings have changed a little by what was measured at others, and are to follow. */
  readonly #following = new Set<string>();
  #findingsChanged = 0;
  #findingsTimer: NodeJS.Timeout | null = null;
  #findByMs = 0;
  #step: StepName | null;
  #awakeMs: number;
  readonly #heartbeat: NodeJS.Timeout;
  #closed = false;
  #shown: SessionView;

  constructor(options: LiveSessionOptions) {
    this.recording = options.recording;
    this.#file = options.file;
    this.#clock = options.clock;
    this.#listener = options.listener;
    this.#moveOn = options.moveOn ?? ((next) => (next.auto ? { type: "step", step: next.step, by: "guide" } : null));
    this.#onLink = options.onLink;
    this.#shown = options.recording.view();
    this.#step = this.#shown.step;
    this.#timeSilence();
    this.#awakeMs = this.#clock.nowMs();
    this.#heartbeat = setInterval(() => this.#wasAwake(), HEARTBEAT_MS);
    this.#heartbeat.unref();
  }

  /** Records an event now, with what it brings about. Does nothing once the session is closed. */
  record(untimed: Untimed): void {
    if (this.#closed) return;
    const t = this.#clock.nowMs();
    this.#passSilences(t);
    this.#append({ ...untimed, t } as SessionInput);
    this.moveOn();
    this.#timeSilence();
  }

  /** Takes the steps that follow by themselves; called after every event and once at the start of a guided walk. */
  moveOn(): void {
    for (let count = 0; count < MOST_STEPS_IN_A_ROW; count += 1) {
      const next = this.recording.guideNext();
      const step = next === null ? null : this.#moveOn(next, this.#step);
      if (step === null) return;
      // It follows from the event before it, so it has that event's time; a replay then gives the same.
      this.#append({ ...step, t: this.recording.tMs } as SessionInput);
    }
    this.#timeSilence();
  }

  /** Records what the operator does, and asks a gauge that only speaks when asked. */
  act(action: OperatorAction): void {
    switch (action.type) {
      case "take":
        this.record({ type: "take" });
        void this.#ask();
        return;
      case "step":
        this.record({
          type: "step",
          step: action.step,
          by: "operator",
          ...(action.lifter === undefined ? {} : { lifter: action.lifter }),
          ...(action.openedNm === undefined ? {} : { openedNm: action.openedNm as Nm }),
          ...(action.blockC === undefined ? {} : { blockC: action.blockC }),
          ...(action.lifterC === undefined ? {} : { lifterC: action.lifterC }),
        });
        return;
      default:
        this.record(withoutUndefined(action) as Untimed);
    }
  }

  /** A line that came by another way than a port: a keyboard-type cable, or typed by a person. */
  type(gauge: string, line: string, by?: "hand"): void {
    this.#onLine(gauge, line, by);
  }

  /** Connects a gauge, in place of the port it had. @throws PortError when the port cannot be opened. */
  async connect(gauge: string, settings: LinkSettings): Promise<void> {
    await this.#links.get(gauge)?.disconnect();
    const { newPort, path, settleMs, lineMs, retryMs } = settings;
    const link = new GaugeLink({
      newPort,
      ...(settleMs === undefined ? {} : { settleMs }),
      ...(lineMs === undefined ? {} : { lineMs }),
      ...(retryMs === undefined ? {} : { retryMs }),
      onLine: (line) => {
        if (this.#wasAwake()) this.#onLine(gauge, line);
      },
      onLink: (state, lost) => {
        const why = lost?.say ?? null;
        this.record({ type: "link", gauge, link: state, path, ...(why === null ? {} : { why }) });
        this.#onLink?.(gauge, state, lost);
      },
    });
    this.#links.set(gauge, link);
    try {
      await link.connect();
    } catch (error) {
      this.#links.delete(gauge);
      throw error;
    }
  }

  async disconnect(gauge: string): Promise<void> {
    const link = this.#links.get(gauge);
    this.#links.delete(gauge);
    await link?.disconnect();
  }

  /** The file's state: pending records and trouble. */
  get saved() {
    return this.#file.saved;
  }

  /** The picture that was shown last, with the findings of all bores: every event in it is on disk. */
  get shown(): SessionView {
    return this.#shown;
  }

  /** Resolves when everything so far is on disk; rejects with the trouble's sentence. */
  flush(): Promise<void> {
    return this.#file.flush();
  }

  /** Closes ports, timers and the file. @throws Error when something could not be saved. */
  async close(): Promise<void> {
    if (this.#closed) return;
    for (const gauge of [...this.#links.keys()]) await this.disconnect(gauge);
    this.#closed = true;
    clearInterval(this.#heartbeat);
    if (this.#silenceTimer !== null) clearTimeout(this.#silenceTimer);
    if (this.#findingsTimer !== null) clearTimeout(this.#findingsTimer);
    this.#viewTimer.stop();
    this.#readingsTimer.stop();
    await this.#file.close();
  }

  /** Whether the program has been there all the time; where it was not, every port is opened anew. */
  #wasAwake(): boolean {
    const t = this.#clock.nowMs();
    const awayMs = t - this.#awakeMs;
    this.#awakeMs = t;
    if (awayMs <= ASLEEP_MS) return true;
    const say = `The computer slept or was held up for ${spoken(awayMs)}; what was being measured then does not count, and the port is opened anew.`;
    for (const link of this.#links.values()) link.renew(say);
    return false;
  }

  #onLine(gauge: string, line: string, by?: "hand"): void {
    this.record({ type: "line", gauge, line, ...(by === undefined ? {} : { by }) });
    if (this.#listener.onReadings === undefined) return;
    const seen = this.recording.run.gaugeView(gauge);
    this.#readings.push({
      gauge,
      tMs: this.recording.tMs,
      valueNm: seen === null || seen.whyNot !== null ? null : seen.lastNm,
      line,
    });
    if (this.#readingsTimer.due(this.#inWork(gauge) ? PICTURE_MS : LYING_BY_MS)) this.#tellReadings();
  }

  #tellReadings(): void {
    this.#listener.onReadings?.(this.#readings.splice(0));
  }

  /** The gauge that is worked with at this step. */
  get #inUse(): JobGauge | undefined {
    const role = this.#step === "lifters" ? "micrometer" : "bore";
    return this.recording.job.gauges.find((gauge) => gauge.role === role);
  }

  #inWork(gauge: string): boolean {
    return gauge === this.#inUse?.id;
  }

  // Only a gauge that has a request is asked.
  async #ask(): Promise<void> {
    const profile = this.#inUse;
    if (profile?.request === undefined) return;
    // A link that is down shows as such; the request is simply not answered.
    await this.#links
      .get(profile.id)
      ?.write(profile.request)
      .catch(() => {});
  }

  // Silence is an event too, and it stands in the record at the time when it came to mean something, however late the
  // timer is: a replay then gives the same.
  #passSilences(t: number): void {
    for (let count = 0; count < MOST_STEPS_IN_A_ROW; count += 1) {
      const due = this.#silenceDueMs();
      if (due === null || due > t) return;
      this.#append({ type: "silence", t: Math.max(due, this.recording.tMs) });
      this.moveOn();
    }
  }

  #timeSilence(): void {
    if (this.#silenceTimer !== null) clearTimeout(this.#silenceTimer);
    this.#silenceTimer = null;
    const due = this.#silenceDueMs();
    if (due === null || this.#closed) return;
    this.#silenceTimer = setTimeout(
      () => {
        this.#passSilences(this.#clock.nowMs());
        this.#timeSilence();
      },
      Math.max(1, due - this.#clock.nowMs() + 1),
    );
  }

  // The rocking that stops, or a bench that stands still for long.
  #silenceDueMs(): number | null {
    const { recording } = this;
    const due = [recording.silenceDueMs(), recording.interruptionDueMs()].filter((ms) => ms !== null);
    return due.length === 0 ? null : Math.min(...due);
  }

  #append(input: SessionInput): void {
    const { text, outcomes } = this.recording.record(input);
    for (const outcome of outcomes) {
      if (outcome.type === "step") this.#step = outcome.step;
      if (this.#listener.onView === undefined) continue;
      if (outcome.type === "station") this.#measured.add(outcome.bore);
    }
    if (this.#listener.onView !== undefined) this.#follow(outcomes);
    const liesBy = input.type === "line" && !this.#inWork(input.gauge) && outcomes.length === 0;
    const afterMs = liesBy ? LYING_BY_PICTURE_MS : PICTURE_MS;
    const picture = this.#pictureOf(outcomes.length > 0 ? 0 : afterMs);
    const kept = () => {
      for (const outcome of outcomes) this.#listener.onOutcome?.(outcome);
      this.#show(picture);
    };
    // Nobody waits for what a gauge that lies by sends, and the disk is free for the one that is worked with.
    this.#file.append(text, kept, liesBy ? LYING_BY_MS : 0);
  }

  /** Shows a picture whose records are on disk, unless a newer one has taken its place. */
  #show(picture: Picture | null): void {
    const view = picture?.view;
    if (picture === null || view == null) return;
    for (const seen of this.#waiting.splice(0, this.#waiting.indexOf(picture) + 1)) seen.view = null;
    this.#shown = merged(this.#shown, view);
    this.#listener.onView?.(view);
  }

  /**
   * The figure that is waited for goes first; the findings of the other bores follow when the hands pause. What a zero,
   * the end of the walk or the operator changes is shown at once with all that comes of it.
   */
  #follow(outcomes: readonly Outcome[]): void {
    const { findingsChanged } = this.recording.run;
    const changed = findingsChanged !== this.#findingsChanged;
    this.#findingsChanged = findingsChanged;
    const among = (...types: readonly Outcome["type"][]) => outcomes.some(({ type }) => types.includes(type));
    if ((changed && !among("station", "sweep")) || among("zero", "complete")) {
      this.#following.clear();
      if (this.#findingsTimer !== null) clearTimeout(this.#findingsTimer);
      this.#findingsTimer = null;
    } else if (changed) {
      if (this.#following.size === 0) this.#findByMs = performance.now() + FINDINGS_LATEST_MS;
      for (const name of this.recording.job.walk) this.#following.add(name);
      this.#findLater(FINDINGS_MS);
    } else if (this.#following.size > 0 && among("sweep")) {
      this.#findLater(FINDINGS_MS);
    }
  }

  #findLater(afterMs: number): void {
    if (this.#findingsTimer !== null) clearTimeout(this.#findingsTimer);
    this.#findingsTimer = setTimeout(
      () => {
        this.#findingsTimer = null;
        for (const bore of [...this.#following].slice(0, FINDINGS_AT_ONCE)) this.#measured.add(bore);
        this.#showWhenKept();
        if (this.#following.size > 0) this.#findLater(FINDINGS_APART_MS);
      },
      Math.max(FINDINGS_APART_MS, Math.min(afterMs, this.#findByMs - performance.now())),
    );
  }

  #showWhenKept(): void {
    const picture = this.#take();
    this.#file.whenKept(() => this.#show(picture));
  }

  // While a disk refuses for hours, a picture for every hundredth of a second would fill the memory: the file holds
  // every callback meanwhile, and with it what the callback holds.
  #take(): Picture {
    const { recording } = this;
    const picture: Picture = { view: this.#following.size === 0 ? recording.view() : this.#viewOfMeasured() };
    this.#measured.clear();
    if (this.#waiting.length === 2) {
      const dropped = this.#waiting.pop();
      if (dropped?.view != null) {
        picture.view = withFindingsOf(dropped.view, picture.view as ViewChange);
        dropped.view = null;
      }
    }
    this.#waiting.push(picture);
    return picture;
  }

  #viewOfMeasured(): ViewChange {
    for (const bore of this.#measured) this.#following.delete(bore);
    return this.recording.viewOf([...this.#measured]);
  }

  // The picture is taken at the record and shown when that record is on disk, so that it never shows more than is kept.
  #pictureOf(afterMs: number): Picture | null {
    return this.#listener.onView !== undefined && this.#viewTimer.due(afterMs) ? this.#take() : null;
  }
}

/** A picture with the findings that the change leaves out taken from the one before. */
function merged(before: SessionView, change: ViewChange): SessionView {
  const { measured = [], ...rest } = change;
  const bores = before.bores.map((one) => measured.find(({ name }) => name === one.name) ?? one);
  return { ...rest, bores: change.bores ?? bores };
}

/** A picture with the findings of the one before it, which was never shown, where it has none of its own. */
function withFindingsOf(dropped: ViewChange, view: ViewChange): ViewChange {
  if (view.bores !== undefined) return view;
  const own = view.measured ?? [];
  const others = (dropped.bores ?? dropped.measured ?? []).filter((one) => !own.some(({ name }) => name === one.name));
  return { ...view, measured: [...others, ...own] };
}

function spoken(ms: number): string {
  if (ms < 120_000) return `${Math.round(ms / 1000)} s`;
  const minutes = Math.round(ms / 60_000);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

function withoutUndefined(value: object): object {
  return Object.fromEntries(Object.entries(value).filter(([, entry]) => entry !== undefined));
}
