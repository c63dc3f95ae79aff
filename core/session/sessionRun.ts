import type { StationPlace } from "../block/layout.ts";
import type { BoreFinding, FitInput, MeasuredStation, Temperatures } from "../fit/finding.ts";
import { clearanceOf, fittedLifter } from "../fit/stationFit.ts";
import { createLineReader } from "../gauge/lineReader.ts";
import type { Ms } from "../gauge/ms.ts";
import type { GaugeProfile } from "../gauge/profile.ts";
import { readTyped } from "../gauge/readTyped.ts";
import { type Nm, toNm } from "../length/nm.ts";
import type { GaugeUnit } from "../length/unit.ts";
import { StreamCutter } from "../sweep/streamCutter.ts";
import type { Pass, Sample, Sweep } from "../sweep/sweep.ts";
import type { JudgedReference } from "../zero/reference.ts";
import type { SessionInput, StepName } from "./event.ts";
import { FeelLog, type FeelView } from "./feel.ts";
import { fitFrame } from "./fitFrame.ts";
import { FoundBores } from "./foundBores.ts";
import { type GaugeState, newGaugeState, seenGauge, viewGauge } from "./gaugeState.ts";
import { type GuideInput, guideFor, type NextStep, nextStep } from "./guide.ts";
import { type Job, type JobGauge, lifterNames } from "./job.ts";
import { LifterTable } from "./lifterTable.ts";
import type { Notice, NoticeCode } from "./notice.ts";
import { NoticeBoard, type NoticeWhere } from "./noticeBoard.ts";
import { noticeText } from "./noticeText.ts";
import type { Outcome } from "./outcome.ts";
import { Remembered } from "./remembered.ts";
import { StepCheckRun } from "./stepCheckRun.ts";
import { SweepCollector } from "./sweepCollector.ts";
import { typedText } from "./typedText.ts";
import type { GaugeView, SessionView, StepCheckView, ViewChange } from "./view.ts";
import { type WalkStation, WalkStations } from "./walkStations.ts";
import { wholeBores } from "./watch/boreMeans.ts";
import { DisplayStep } from "./watch/displayStep.ts";
import { seenStations } from "./watch/seenStations.ts";
import type { SeenGauge, SeenStation, Sight, WholeBore } from "./watch/sight.ts";
import { StreamShape } from "./watch/streamShape.ts";
import { Watch } from "./watch/watch.ts";
import { farNm, nearNm } from "./workingRange.ts";
import { ZeroLog } from "./zeroLog.ts";

/** A second press in the air within this time goes back one station more (the contract's figure). */
const PRESS_AGAIN_MS = 2_000;
/** A streaming micrometer's reading may be so old when it is taken. Our choice: slow displays send five a second. */
const FRESH_MS = 1_000;
/** So many presses in a row far out of range are remembered. */
const FAR_PRESSES = 6;
/**
 * An outlier farther from its station than so many agreements, short or long, is told to the person. Our choice: the
 * first sweep at a place, on the way in, is often long by a few, in clean work too; short is what ruins an engine.
 */
const FAR_SHORT = 3;
const FAR_LONG = 6;
/** After so long without a sweep (included) a return check is asked for first. Our choice: the bench has had time to change. */
const INTERRUPTION_MS = 30 * 60_000;

/**
 * The session reducer: takes the events of a session in order and holds all of its state. A live walk, a replay, the
 * command line and the tests feed it the same events and read the same answers; it owns no clock and does no I/O.
 */
export class SessionRun {
  readonly job: Job;
  readonly #gauges = new Map<string, GaugeState>();
  readonly #board = new NoticeBoard();
  readonly #lifters: LifterTable;
  readonly #stations: WalkStations;
  readonly #bore: JobGauge;
  readonly #watch = new Watch();
  #shape: StreamShape;
  /** Presses in a row far above the working range, over the zero, nm. */
  #farPressesNm: readonly number[] = [];
  /** Something was seen that has no outcome of its own, and the rules are to look at it. */
  #lookDue = false;
  #n = 0;
  #tMs: Ms = 0;
  #step: StepName | null = null;
  #held = false;
  #gain = 1;
  #cutter: StreamCutter;
  readonly #zeros: ZeroLog;
  readonly #stepCheck: StepCheckRun;
  #here: WalkStation | null = null;
  /** The open station closed and the next is to open once the rocking stops or the gauge is withdrawn. */
  #hereClosed = false;
  #temperatures: Temperatures[] = [];
  /** Which lifter goes into which bore, where a pairing was accepted. */
  #fitted: ReadonlyMap<string, string> = new Map();
  readonly #feel = new FeelLog();
  #lastAirPressMs: Ms | null = null;
  /** When the reading of the micrometer came that was taken last. */
  #takenMs: Ms | null = null;
  #lastSweepMs: Ms | null = null;
  #interrupted = false;
  #complete = false;
  readonly #found = new FoundBores(() => this.fitInput());
  /** The whole bores as the rules saw them last. */
  #bores: readonly WholeBore[] = [];
  /** What every sweep asks for and only a closed station or a reference changes. */
  readonly #known = {
    dueAgain: new Remembered<boolean>(),
    complete: new Remembered<boolean>(),
    allMeasured: new Remembered<boolean>(),
    sinceCheck: new Remembered<number>(),
    stations: new Remembered<readonly SeenStation[]>(),
    bores: new Remembered<readonly WholeBore[]>(),
    bore: new Remembered<SeenGauge>(),
    micrometer: new Remembered<SeenGauge>(),
    stream: new Remembered<Sight["stream"]>(),
  };
  #out: Outcome[] = [];

  constructor(job: Job) {
    this.job = job;
    this.#lifters = new LifterTable(lifterNames(job), job.pressesPerLifter);
    for (const profile of job.gauges) this.#gauges.set(profile.id, newGaugeState(profile));
    const bore = job.gauges.find((gauge) => gauge.role === "bore");
    if (bore === undefined) throw new Error("a job has a bore gauge");
    this.#bore = bore;
    this.#zeros = new ZeroLog(job.zeroHoldNm);
    this.#stepCheck = new StepCheckRun(job.sweepsPerStation);
    this.#cutter = this.#newCutter();
    this.#shape = new StreamShape(bore.resolutionNm);
    this.#stations = new WalkStations(job.walk, job.stations, (changed) => this.#newCollector(changed));
  }

  /** Number of events applied. */
  get n(): number {
    return this.#n;
  }

  /** Time of the last event. */
  get tMs(): Ms {
    return this.#tMs;
  }

  get complete(): boolean {
    return this.#complete;
  }

  get notices(): readonly Notice[] {
    return this.#board.all;
  }

  /** Closed references with what the return checks say of them, in order of time. */
  get references(): readonly JudgedReference[] {
    return this.#zeros.judged;
  }

  /** The job's gauges as they are read now: what the operator corrected is in them. */
  get gaugesAsRead(): readonly JobGauge[] {
    return [...this.#gauges.values()].map(({ profile }) => profile);
  }

  get lifters(): LifterTable {
    return this.#lifters;
  }

  get stations(): WalkStations {
    return this.#stations;
  }

  get stepCheck(): StepCheckView {
    return this.#stepCheck.view;
  }

  /** What was found by hand, with oil, where anything was entered; in walk order. */
  feel(): readonly FeelView[] {
    return this.#feel.view(
      this.job.walk,
      (bore) => this.#fitted.get(bore) ?? bore,
      (bore) => this.#stations.boreClosedMs(bore),
    );
  }

  /**
   * Applies one event and says what it brought about, in order.
   * @throws RangeError if time goes back or is not a finite number of milliseconds from 0.
   */
  apply(event: SessionInput): Outcome[] {
    if (!Number.isFinite(event.t) || event.t < this.#tMs) {
      throw new RangeError(`time goes back: found t ${event.t} ms after ${this.#tMs} ms; expected t never to fall`);
    }
    this.#tMs = event.t;
    this.#n += 1;
    this.#out = [];
    this.#applyByType(event);
    if (this.#out.length > 0 || this.#lookDue) this.#afterChange();
    return this.#out;
  }

  /** When silence alone would bring something about, ms; null if it would not. */
  silenceDueMs(): Ms | null {
    return this.#streams && this.#collects ? this.#cutter.silenceDueMs() : null;
  }

  /**
   * When the work will have stood still for so long that the zero must be looked at again before it goes on, ms; null
   * while it cannot. A walk at the bench says so with a silence at that time; a feed, which ends, does not.
   */
  interruptionDueMs(): Ms | null {
    const walking = this.#step === "bores" && this.#zeros.zeroNm !== null && !this.#complete && !this.#interrupted;
    return walking && this.#lastSweepMs !== null ? this.#lastSweepMs + INTERRUPTION_MS : null;
  }

  /** The step that follows, once the present one is done; null while it is not. */
  guideNext(): NextStep | null {
    return nextStep(this.#guideInput());
  }

  /** Everything that is computed from the measurements so far, bore by bore in walk order. */
  findings(): readonly BoreFinding[] {
    return this.#found.all();
  }

  /** How often the findings have become others so far, which costs nothing to ask. */
  get findingsChanged(): number {
    return this.#found.changed;
  }

  /** What the findings are computed from; other limits or rules may be put in for a look at "what if". */
  fitInput(): FitInput {
    const stations: MeasuredStation[] = [];
    for (const { bore, place, collector } of this.#stations.all) {
      const { closedMs, valueNm, spreadNm, sweeps } = collector;
      if (closedMs === null || valueNm === null || spreadNm === null) continue;
      stations.push({ bore, place, tMs: closedMs, valueNm, spreadNm, sweeps });
    }
    return { ...this.#fitFrame(), stations };
  }

  /** One gauge as a screen shows it; null for an id that the job lacks. Cheap, unlike the whole view. */
  gaugeView(id: string): GaugeView | null {
    const gauge = this.#gaugeOf(id);
    return gauge === null ? null : viewGauge(gauge);
  }

  /** A plain snapshot for a screen. */
  view(): SessionView {
    return { ...this.#snapshot(), bores: this.findings() };
  }

  /**
   * A snapshot with the findings of these bores alone: in a large block, a small part of the work of all of them. A bore
   * outside the walk is one that was not measured.
   */
  viewOf(bores: readonly string[]): ViewChange {
    return { ...this.#snapshot(), measured: bores.map((bore) => this.#found.of(bore)) };
  }

  #snapshot(): Omit<SessionView, "bores"> {
    const here = this.#here;
    const near = this.#nearNm();
    const lastNm = this.#gaugeOf(this.#bore.id)?.lastNm ?? null;
    const far = this.#farNm();
    const guideInput = this.#guideInput();
    return {
      n: this.#n,
      tMs: this.#tMs,
      step: this.#step,
      held: this.#held,
      gauges: [...this.#gauges.values()].map(viewGauge),
      lifters: this.#lifters.view(),
      nextLifter: this.#lifters.next,
      referenceSweeps: this.#zeros.open?.sweeps ?? this.#stepCheck.open?.sweeps ?? [],
      references: this.#zeros.judged,
      workingRange: near === null || far === null ? null : { lowNm: near, highNm: far },
      stepCheck: this.#stepCheck.view,
      here:
        here === null
          ? null
          : {
              bore: here.bore,
              place: here.place,
              state: here.collector.noAgreement
                ? "no-agreement"
                : here.collector.closedMs !== null && this.#hereClosed
                  ? "closed"
                  : "open",
              sweeps: here.collector.sweeps,
              clearanceNm: this.#clearanceNm(here, here.collector.valueNm),
              liveNm:
                lastNm === null || near === null || far === null || lastNm > far || lastNm < near
                  ? null
                  : this.#clearanceNm(here, lastNm),
            },
      nextBore: this.#nextBore(),
      returnDue: guideInput.returnDue,
      feel: this.feel(),
      notices: this.#board.all,
      guide: guideFor(guideInput),
      complete: this.#complete,
    };
  }

  // ---- events -------------------------------------------------------------------------------------------------

  #applyByType(event: SessionInput): void {
    switch (event.type) {
      case "line":
        if (event.by === "hand") this.#onTyped(event.gauge, event.line);
        else this.#onLine(event.gauge, event.line);
        return;
      case "link":
        this.#onLink(event);
        return;
      case "step":
        this.#setTemperatures(event.blockC, event.lifterC);
        this.#onStep(event.step, event.lifter ?? null, event.openedNm ?? null);
        return;
      case "temperature":
        this.#setTemperatures(event.blockC, event.lifterC);
        return;
      case "take":
        this.#onTake();
        return;
      case "strike":
        this.#strike();
        return;
      case "back":
        this.#back();
        return;
      case "hold":
        this.#held = event.on;
        this.#cutter.interrupt();
        this.#shape.interrupt();
        return;
      case "go":
        this.#onGo(event.bore, event.station);
        return;
      case "silence":
        if (this.#streams && this.#collects) this.#onCut(this.#cutter.silence(this.#tMs));
        this.#noteInterruption();
        return;
      case "correct":
        this.#onCorrect(event);
        return;
      case "reconsider":
        this.#reconsider(event);
        return;
      case "pairing":
        this.#fitted = new Map(event.assignments.map(({ bore, lifter }) => [bore, lifter]));
        this.#found.forget();
        this.#lookDue = true;
        return;
      case "feel":
        if (this.job.walk.includes(event.bore)) this.#feel.enter(event, this.#fitted.get(event.bore) ?? event.bore);
        return;
      case "resumed":
        this.#cutter.interrupt();
        for (const gauge of this.#gauges.values()) gauge.link = "closed";
        this.#noteInterruption();
        return;
      case "torn":
        this.#raise("torn-tail", noticeText.tornTail(event.bytes));
        return;
      case "note":
        return;
    }
  }

  #onLine(id: string, line: string): void {
    const gauge = this.#gaugeOf(id);
    if (gauge === null) return;
    gauge.lastLine = line;
    const read = gauge.reader.read(line);
    if (!read.ok) {
      this.#onNotUnderstood(gauge, read.why, noticeText.notUnderstood(id, line, read.why));
      return;
    }
    this.#onUnderstood(gauge, read.valueNm);
    const finer = gauge.step.push(read.displayNm);
    if (finer || gauge.decimals !== read.decimals) {
      gauge.decimals = read.decimals;
      this.#lookDue = true;
    }
    if (read.unitMark !== null) this.#compareMark(id, read.unitMark, gauge.profile.unit);
    if (this.#held) return;
    if (gauge.profile.role === "micrometer") {
      if (this.#step === "lifters" && gauge.profile.sends !== "stream") this.#addLifter(read.valueNm);
      return;
    }
    if (!this.#collects) return;
    if (!this.#streams) {
      this.#onPress(read.valueNm);
      return;
    }
    const sample = { tMs: this.#tMs, valueNm: read.valueNm };
    this.#onShape(sample);
    this.#onCut(this.#cutter.push(sample));
  }

  #onUnderstood(gauge: GaugeState, valueNm: Nm): void {
    gauge.understood += 1;
    gauge.lastNm = valueNm;
    gauge.lastMs = this.#tMs;
    if (gauge.whyNot === null) return;
    gauge.whyNot = null;
    this.#cure("not-understood", (notice) => notice.gauge === gauge.profile.id);
  }

  /** Counted and told, never guessed at. */
  #onNotUnderstood(gauge: GaugeState, why: string, text: string): void {
    gauge.notUnderstood += 1;
    gauge.whyNot = why;
    this.#raise("not-understood", text, { gauge: gauge.profile.id });
  }

  /** A reading that a person typed: one sweep, whatever the gauge would send. Far from any bore it is a slip, never a strike. */
  #onTyped(id: string, line: string): void {
    const gauge = this.#gaugeOf(id);
    if (gauge === null) return;
    gauge.lastLine = line;
    const read = readTyped(line, gauge.profile.unit);
    const wrong = read.ok ? this.#typedFar(gauge, this.#typedNm(gauge, read.displayNm)) : read.why;
    if (!read.ok || wrong !== null) {
      this.#onNotUnderstood(gauge, wrong ?? "", noticeText.typedRefused(id, line, wrong ?? ""));
      return;
    }
    const valueNm = this.#typedNm(gauge, read.displayNm);
    this.#onUnderstood(gauge, valueNm);
    if (gauge.step.push(read.displayNm)) this.#lookDue = true;
    if (this.#held) return;
    if (gauge.profile.role === "micrometer") {
      if (this.#step === "lifters") this.#addLifter(valueNm, true);
      return;
    }
    if (!this.#collects) return;
    this.#cure("out-of-range");
    this.#addPass({ samples: [{ tMs: this.#tMs, valueNm }], end: "held", typed: true });
  }

  /**
   * Why a reading that a person is about to type could not be used, in a sentence; null if it can. Nothing is changed by
   * asking.
   */
  whyNotTyped(id: string, line: string): string | null {
    const gauge = this.#gaugeOf(id);
    if (gauge === null) return `the job has no gauge "${id}"`;
    const read = readTyped(line, gauge.profile.unit);
    if (!read.ok) return read.why;
    return this.#typedFar(gauge, this.#typedNm(gauge, read.displayNm));
  }

  #typedNm({ profile }: GaugeState, displayNm: Nm): Nm {
    return profile.polarity === 1 || displayNm === 0 ? displayNm : (-displayNm as Nm);
  }

  /** What is wrong with the size of a typed reading (nm, polarity applied); null if nothing is. */
  #typedFar({ profile }: GaugeState, valueNm: Nm): string | null {
    if (profile.role === "micrometer") {
      if (this.#step !== "lifters") return null;
      const { nominalNm } = this.job.lifter;
      return valueNm * 2 < nominalNm || valueNm > nominalNm * 2
        ? typedText.lifterFar(valueNm, nominalNm, profile.unit)
        : null;
    }
    const free = this.#stepCheck.open !== null;
    const far = free ? null : this.#farNm();
    const near = free ? null : this.#nearNm();
    if ((far !== null && valueNm > far) || (near !== null && valueNm < near)) {
      return typedText.far(valueNm, this.#originNm ?? valueNm, profile.unit);
    }
    return null;
  }

  #compareMark(id: string, mark: GaugeUnit, unit: GaugeUnit): void {
    if (mark !== unit) {
      this.#raise("unit-mismatch", noticeText.unitMark(id, mark, unit), { gauge: id });
      return;
    }
    const other = unit === "in" ? "mm" : "in";
    this.#cure("unit-mismatch", (notice) => notice.text === noticeText.unitMark(id, other, unit));
  }

  #onLink({ gauge: id, link, path, why }: Extract<SessionInput, { type: "link" }>): void {
    const gauge = this.#gaugeOf(id);
    if (gauge === null) return;
    gauge.link = link;
    if (gauge.profile.role === "bore") {
      this.#cutter.interrupt();
      this.#shape.interrupt();
      if (link === "open") this.#noteInterruption();
    }
    const text = noticeText.linkLost(id, path ?? null, why ?? null);
    this.#cure("link-lost", (notice) => notice.gauge === id && (link !== "lost" || notice.text !== text));
    if (link === "lost") this.#raise("link-lost", text, { gauge: id });
  }

  /** After a night, or a computer's sleep, the bench has had time to change. */
  #noteInterruption(): void {
    if (this.#lastSweepMs === null || this.#tMs - this.#lastSweepMs < INTERRUPTION_MS) return;
    this.#interrupted = true;
    this.#lookDue = true;
  }

  #onStep(step: StepName, lifter: string | null, openedNm: Nm | null): void {
    const before = this.#step;
    this.#step = step;
    this.#zeros.leave();
    this.#stepCheck.leave();
    this.#lastAirPressMs = null;
    this.#cutter = this.#newCutter();
    if (step !== "bores") this.#hereClosed = false;
    if (step !== "lifters") this.#cureLiftersDone();
    this.#out.push({ type: "step", t: this.#tMs, step });
    switch (step) {
      case "lifters":
        return;
      case "zero":
      case "return":
        this.#zeros.begin(step, lifter, this.#newCollector());
        this.#cutter.setFar(this.#farNm());
        return;
      case "step-check":
        this.#cure("step-failed");
        this.#stepCheck.begin(openedNm, this.#boreProfile(), this.#newCollector());
        this.#cutter.setFar(null);
        if (this.#zeros.zeroNm === null) this.#raise("order-of-work", noticeText.noZero(), { gauge: this.#bore.id });
        return;
      case "bores":
        this.#stepCheck.skip();
        if (before === "zero" || before === "return" || before === "step-check") this.#interrupted = false;
        this.#enterBores();
        return;
    }
  }

  #enterBores(): void {
    if (this.#zeros.zeroNm === null) {
      this.#raise("order-of-work", noticeText.noZero(), { gauge: this.#bore.id });
      return;
    }
    const again = this.#stations.firstDueAgain(this.#zeros.holds);
    if (again !== null) {
      this.#openStation(again);
      return;
    }
    const here = this.#here;
    if (here !== null && this.#stations.isDue(here, this.#zeros.holds)) {
      this.#openStation(here);
      return;
    }
    this.#openStation(this.#stations.nextDue(here?.index ?? -1, this.#zeros.holds));
  }

  #onTake(): void {
    if (this.#step === "lifters") {
      this.#takeLifter();
      return;
    }
    if (this.#streams && this.#collects && !this.#held) this.#onCut(this.#cutter.take(this.#tMs));
  }

  /** The streaming micrometer's reading of now becomes the lifter's; an old one says nothing of what is in it. */
  #takeLifter(): void {
    const micrometer = [...this.#gauges.values()].find((gauge) => gauge.profile.role === "micrometer");
    if (this.#held || micrometer?.profile.sends !== "stream") return;
    const { lastNm, lastMs } = micrometer;
    if (lastNm === null || lastMs === null || this.#tMs - lastMs > FRESH_MS || lastMs === this.#takenMs) return;
    this.#takenMs = lastMs;
    this.#addLifter(lastNm);
  }

  #onGo(bore: string, place: StationPlace | undefined): void {
    if (this.#step === "lifters") {
      this.#lifters.goTo(bore);
      this.#cureLiftersDone();
      this.#found.forget();
      this.#lookDue = true;
      return;
    }
    const bores = this.#stations.stationsOf(bore);
    const station =
      place === undefined
        ? (bores.find((other) => this.#stations.isDue(other, this.#zeros.holds)) ?? bores[0])
        : this.#stations.find(bore, place);
    if (station === undefined) return;
    if (place === undefined && bores.every((other) => !this.#stations.isDue(other, this.#zeros.holds))) {
      // Sent back to a finished bore: all of it is measured again.
      for (const other of bores) this.#stations.takeBack(other);
      this.#found.forget();
    }
    this.#cutter.interrupt();
    if (this.#zeros.zeroNm !== null) this.#leaveMicrometer();
    this.#openStation(station);
  }

  /** Back to the bores from a zero, return check or step check, which is dropped. */
  #leaveMicrometer(): void {
    if (this.#zeros.open === null && this.#stepCheck.open === null) return;
    this.#zeros.leave();
    this.#stepCheck.leave();
    this.#step = "bores";
    this.#cutter = this.#newCutter();
    this.#out.push({ type: "step", t: this.#tMs, step: "bores" });
  }

  #onCorrect(event: Extract<SessionInput, { type: "correct" }>): void {
    const gauge = this.#gaugeOf(event.gauge);
    if (gauge === null) return;
    if (event.gain !== undefined && gauge.profile.role === "bore") this.#gain = event.gain;
    this.#lookDue = true;
    this.#found.forget();
    if (event.polarity === undefined && event.unit === undefined) return;
    gauge.profile = {
      ...gauge.profile,
      ...(event.polarity === undefined ? {} : { polarity: event.polarity === "+" ? 1 : -1 }),
      ...(event.unit === undefined ? {} : { unit: event.unit }),
    };
    gauge.reader = createLineReader(gauge.profile);
    this.#cure("unit-mismatch", (notice) => notice.gauge === event.gauge);
    gauge.decimals = null;
    gauge.step = new DisplayStep(gauge.profile.sends === "stream");
    if (gauge.profile.role !== "bore") {
      this.#lifters.clear();
      return;
    }
    this.#shape = new StreamShape(this.#bore.resolutionNm);
    this.#farPressesNm = [];
    // Everything read under the wrong sign or unit is void: the sweeps turned at the wrong end.
    for (const station of this.#stations.all) {
      if (station.collector.sweeps.length > 0) this.#stations.takeBack(station);
    }
    const { lifter } = this.#zeros;
    this.#zeros.clear();
    this.#onZeroChanged();
    this.#stepCheck.forget();
    this.#cure("step-failed");
    // Who stood at a zero, a check or the bores must take the zero anew.
    if (this.#step !== null && this.#step !== "lifters") this.#onStep("zero", lifter, null);
  }

  #setTemperatures(blockC: number | undefined, lifterC: number | undefined): void {
    if (blockC === undefined && lifterC === undefined) return;
    const last = this.#temperatures.at(-1);
    const now: Temperatures = {
      tMs: this.#tMs,
      blockC: blockC ?? last?.blockC ?? null,
      lifterC: lifterC ?? last?.lifterC ?? null,
    };
    this.#temperatures.push(now);
    this.#lookDue = true;
    this.#found.forget();
    if (now.blockC === null || now.lifterC === null) return;
    if (Math.abs(now.blockC - now.lifterC) > 2) {
      this.#raiseNow("temperature", noticeText.temperature(now.blockC, now.lifterC));
    } else {
      this.#cure("temperature", (notice) => notice.gauge === undefined);
    }
  }

  #onShape(sample: Sample): void {
    const stepCheck = this.#step === "step-check";
    const event = this.#shape.push(sample, {
      nearNm: stepCheck ? null : this.#nearNm(),
      farNm: stepCheck ? null : this.#farNm(),
      stationOpen: this.#step === "bores" && this.#here !== null && !this.#hereClosed,
    });
    if (event === "look") this.#lookDue = true;
    else if (event === "contact-lost") this.#raise("contact-lost", noticeText.contactLost(), this.#where());
    else if (event === "frozen") this.#raise("frozen", noticeText.frozen(this.#bore.id), { gauge: this.#bore.id });
  }

  // ---- sweeps -------------------------------------------------------------------------------------------------

  #onCut(events: ReturnType<StreamCutter["push"]>): void {
    for (const event of events) {
      switch (event.type) {
        case "pass":
          this.#addPass(event.pass);
          break;
        case "stopped":
        case "withdrawn":
          this.#onRest();
          break;
        case "contact-lost":
          this.#raise("contact-lost", noticeText.contactLost(), this.#where());
          break;
        case "frozen":
          this.#raise("frozen", noticeText.frozen(this.#bore.id), { gauge: this.#bore.id });
          break;
        case "entered":
          break;
      }
    }
  }

  /** The rocking has stopped or the gauge is out of the bore: what is closed is done, and the next place opens. */
  #onRest(): void {
    this.#zeros.rest();
    if (this.#step === "bores" && this.#hereClosed) this.#openNext();
  }

  /** A press or a held minimum: one sweep, or the sign to strike when the gauge is far outside its working range. */
  #onPress(valueNm: Nm): void {
    // A step check must be let to fail by any factor, so no reading is out of range there.
    const far = this.#stepCheck.open === null ? this.#farNm() : null;
    if (far !== null && valueNm > far) {
      const zeroNm = this.#zeros.zeroNm;
      if (zeroNm !== null) this.#farPressesNm = [...this.#farPressesNm, valueNm - zeroNm].slice(-FAR_PRESSES);
      this.#lookDue = true;
      this.#onAirPress();
      return;
    }
    this.#lastAirPressMs = null;
    this.#farPressesNm = [];
    const near = this.#stepCheck.open === null ? this.#nearNm() : null;
    if (near !== null && valueNm < near) {
      this.#raise("out-of-range", noticeText.outOfRange(this.#bore.id), { gauge: this.#bore.id });
      return;
    }
    this.#cure("out-of-range");
    this.#addPass({
      samples: [{ tMs: this.#tMs, valueNm }],
      end: this.#bore.sends === "held" ? "held" : "press",
    });
  }

  #onAirPress(): void {
    const again = this.#lastAirPressMs !== null && this.#tMs - this.#lastAirPressMs <= PRESS_AGAIN_MS;
    this.#lastAirPressMs = this.#tMs;
    if (again) this.#back();
    else this.#strike();
  }

  #addPass(pass: Pass): void {
    this.#lastSweepMs = this.#tMs;
    if (this.#zeros.open !== null) this.#addToReference(pass);
    else if (this.#stepCheck.open !== null) this.#addToStepCheck(pass);
    else if (this.#step === "bores") this.#addToStation(pass);
  }

  #addToReference(pass: Pass): void {
    const result = this.#zeros.add(pass, this.#tMs, !this.#streams || pass.typed === true);
    if (result === null) return;
    const { added, judged, first } = result;
    this.#sayOfSweep(added.sweep, added.disagrees);
    if (added.reopens || judged !== null) this.#onZeroChanged();
    if (added.reopens) this.#raise("no-agreement", noticeText.reopened(), this.#where());
    if (judged === null) return;
    if (first) {
      this.#cure("no-agreement", (notice) => notice.bore === undefined);
      this.#cure("order-of-work", (notice) => notice.gauge === this.#bore.id);
    }
    this.#out.push({ type: "zero", t: this.#tMs, reference: judged, again: added.joins });
    if (judged.held) this.#interrupted = false;
    else {
      const text = noticeText.zeroMoved(judged.returnNm, this.job.zeroHoldNm, this.#bore.unit);
      // Sweeps that join shift the figure a little; that is not told again.
      if (first) this.#raiseNow("zero-moved", text);
      else this.#raise("zero-moved", text);
    }
  }

  #addToStepCheck(pass: Pass): void {
    const atRest = !this.#streams || pass.typed === true;
    const result = this.#stepCheck.add(pass, this.#tMs, this.#zeros.zeroNm, this.#boreProfile(), atRest);
    if (result === null) return;
    const { added, answer, failed } = result;
    this.#sayOfSweep(added.sweep, added.disagrees);
    if (answer === null) return;
    this.#out.push({ type: "step-check", t: this.#tMs, ...answer });
    if (answer.passed) {
      this.#cure("step-failed");
      this.#shape.provePolarity();
    } else if (failed) {
      const where = { gauge: this.#bore.id };
      // A stream's answer shifts a little with every sweep; that is not told again.
      if (this.#streams) this.#raise("step-failed", answer.text, where);
      else this.#raiseNow("step-failed", answer.text, where);
    }
  }

  #addToStation(pass: Pass): void {
    const here = this.#here;
    if (here === null) return;
    const { collector } = here;
    const outliers = this.#outliersIn(collector);
    const added = collector.add(pass, this.#tMs);
    this.#sayOfSweep(added.sweep, added.disagrees);
    // More sweeps may show what fewer could not: that one of those before lies apart.
    if (this.#outliersIn(collector) > outliers) this.#raise("outlier", noticeText.outlier(), this.#where());
    if (added.reopens) {
      this.#stations.noteOpen(here);
      this.#hereClosed = false;
      this.#found.forget();
      this.#raise("no-agreement", noticeText.reopened(), this.#where());
    }
    // Even a pass that is set aside stands in the record, and can refine the turning points of the others.
    if (collector.closedMs !== null) this.#found.forget();
    if (!added.closes && !added.joins) return;
    if (added.closes) {
      this.#stations.noteClosed(here);
      this.#hereClosed = true;
      // No gauge that counts backwards shows a bore above its zero.
      if ((this.#clearanceNm(here, collector.valueNm) ?? 0) > FAR_LONG * this.job.agreementNm)
        this.#shape.provePolarity();
      this.#cure("no-agreement", (notice) => notice.bore === here.bore);
    }
    const { valueNm, spreadNm, sweeps } = collector;
    if (valueNm === null || spreadNm === null) return;
    this.#out.push({
      type: "station",
      t: this.#tMs,
      bore: here.bore,
      place: here.place,
      valueNm,
      spreadNm,
      sweeps,
      clearanceNm: this.#clearanceNm(here, valueNm),
      again: added.joins,
    });
    if (added.closes && (!this.#streams || pass.typed === true)) this.#openNext();
  }

  /** Sweeps set aside for lying so far apart that the person at the bench should know, rather than the record only. */
  #outliersIn({ sweeps, valueNm }: SweepCollector): number {
    const agreement = this.job.agreementNm;
    return sweeps.filter((sweep) => {
      const off = sweep.why === "outlier" && valueNm !== null ? sweep.turningPointNm - valueNm : 0;
      return off < -FAR_SHORT * agreement || off > FAR_LONG * agreement;
    }).length;
  }

  #sayOfSweep(sweep: Sweep, disagrees: boolean): void {
    const here = this.#step === "bores" ? this.#here : null;
    this.#out.push({
      type: "sweep",
      t: this.#tMs,
      step: this.#step ?? "bores",
      ...(here === null ? {} : { bore: here.bore, place: here.place }),
      sweep,
    });
    const where = this.#where();
    if (sweep.use === "kept") {
      this.#cure("too-quick");
      this.#cure("contact-lost");
      this.#cure("frozen");
      this.#cure("outlier");
    } else if (sweep.why === "too-quick") this.#raise("too-quick", noticeText.tooQuick(), where);
    else if (sweep.why === "contact-lost") this.#raise("contact-lost", noticeText.contactLost(), where);
    if (disagrees) this.#raise("no-agreement", noticeText.noAgreement(), where);
  }

  /** A sweep of a derived session is struck or given back, wherever in the walk it was made. */
  #reconsider({ bore, station, sweepMs, use }: Extract<SessionInput, { type: "reconsider" }>): void {
    this.#lookDue = true;
    this.#found.forget();
    if (bore === undefined) {
      this.#reconsiderReference(sweepMs, use);
      return;
    }
    const found = this.#stations.find(bore, station);
    if (found === undefined || !found.collector.reconsider(sweepMs, use)) return;
    if (found.collector.closedMs === null) this.#stations.noteOpen(found);
    else this.#stations.noteClosed(found);
    const { valueNm, spreadNm, sweeps } = found.collector;
    if (found.collector.closedMs === null || valueNm === null || spreadNm === null) return;
    const clearanceNm = this.#clearanceNm(found, valueNm);
    const place = found.place;
    this.#out.push({ type: "station", t: this.#tMs, bore, place, valueNm, spreadNm, sweeps, clearanceNm, again: true });
  }

  #reconsiderReference(sweepMs: Ms, use: "kept" | "struck"): void {
    const judged = this.#zeros.reconsider(sweepMs, use);
    if (judged === undefined) return;
    this.#onZeroChanged();
    if (judged !== null) this.#out.push({ type: "zero", t: this.#tMs, reference: judged, again: true });
  }

  // ---- the walk -----------------------------------------------------------------------------------------------

  #openNext(): void {
    this.#hereClosed = false;
    this.#openStation(this.#stations.nextDue(this.#here?.index ?? -1, this.#zeros.holds));
  }

  #openStation(station: WalkStation | null): void {
    const before = this.#here;
    this.#hereClosed = false;
    this.#here = station;
    if (station === null) return;
    if (station.collector.closedMs !== null) {
      this.#stations.takeBack(station);
      this.#found.forget();
    }
    this.#out.push({
      type: "opened",
      t: this.#tMs,
      bore: station.bore,
      place: station.place,
      newBore: before?.bore !== station.bore,
    });
  }

  /** Takes back the last sweep, or the last station if none is open. */
  #strike(): void {
    if (this.#step === "lifters") {
      const name = this.#lifters.strike();
      if (name !== null) this.#out.push({ type: "struck", t: this.#tMs, what: "sweep", bore: name });
      this.#cureLiftersDone();
      this.#found.forget();
      return;
    }
    const open = this.#zeros.open ?? this.#stepCheck.open;
    if (open?.hasSweep) {
      this.#strikeReferenceSweep(open);
      return;
    }
    const here = this.#here;
    if (open === null && here !== null && !this.#hereClosed && here.collector.hasSweep) {
      here.collector.strikeLast();
      this.#sayStruck("sweep", here);
      return;
    }
    this.#strikeLastStation();
  }

  #strikeReferenceSweep(open: SweepCollector): void {
    if (this.#zeros.takeBack()) {
      this.#onZeroChanged();
      this.#out.push({ type: "struck", t: this.#tMs, what: "station" });
      return;
    }
    open.strikeLast();
    this.#out.push({ type: "struck", t: this.#tMs, what: "sweep" });
  }

  #strikeLastStation(): void {
    const last = this.#stations.lastClosed;
    if (last === null) return;
    this.#stations.takeBack(last);
    this.#found.forget();
    this.#sayStruck("station", last);
    this.#leaveMicrometer();
    this.#openStation(last);
  }

  /** Takes back what stands at the open station and the station before it. */
  #back(): void {
    if (this.#step === "lifters") {
      this.#strike();
      return;
    }
    const here = this.#here;
    const open = this.#zeros.open ?? this.#stepCheck.open;
    if (open === null && here !== null && !this.#hereClosed && here.collector.hasSweep) {
      here.collector.takeBack();
      this.#sayStruck("station", here);
    }
    this.#strikeLastStation();
  }

  #sayStruck(what: "sweep" | "station", station: WalkStation): void {
    this.#out.push({ type: "struck", t: this.#tMs, what, bore: station.bore, place: station.place });
    if (!station.collector.noAgreement) this.#cure("no-agreement", (notice) => notice.bore === station.bore);
  }

  #cureLiftersDone(): void {
    if (this.#step === "lifters" && this.#lifters.next === null) return;
    this.#cure("order-of-work", (notice) => notice.text === noticeText.liftersDone());
  }

  #addLifter(valueNm: Nm, typed = false): void {
    if (this.#lifters.next === null) {
      this.#raise("order-of-work", noticeText.liftersDone());
      return;
    }
    const done = this.#lifters.add(valueNm, typed);
    this.#lookDue = true;
    this.#found.forget();
    if (done !== null) this.#out.push({ type: "lifter", t: this.#tMs, ...done });
  }

  // ---- what follows from the state ----------------------------------------------------------------------------

  #afterChange(): void {
    const dueAgain = this.#known.dueAgain.of(
      this.#measured(),
      () => this.#stations.firstDueAgain(this.#zeros.holds) !== null,
    );
    if (!dueAgain) this.#cure("zero-moved");
    const returnDue = this.#returnDue();
    if (returnDue && (this.#interrupted || this.#betweenBores()) && this.#step === "bores") {
      this.#raise("return-due", noticeText.returnDue(this.#interrupted));
    } else if (!returnDue) {
      this.#cure("return-due");
    }
    const complete = this.#isComplete();
    if (complete && !this.#complete) this.#out.push({ type: "complete", t: this.#tMs });
    this.#complete = complete;
    this.#look();
  }

  /** Raises what the rules see in the session as it now stands, and cures what they see no more. */
  #look(): void {
    this.#lookDue = false;
    const { found, gone } = this.#watch.look(this.#sight());
    for (const { code, text, where } of found) this.#raise(code, text, where);
    for (const { code, text } of gone) this.#cure(code, (notice) => notice.text === text);
  }

  #sight(): Sight {
    const here = this.#hereClosed ? this.#here : null;
    const closedMs = here?.collector.closedMs ?? null;
    const micrometer = [...this.#gauges.values()].find((gauge) => gauge.profile.role === "micrometer");
    const temperatures = this.#temperatures.at(-1);
    const stations = this.#known.stations.of([...this.#measured(), this.#gain], () =>
      seenStations(this.#stations.all, this.#zeros.judged, this.#gain),
    );
    this.#bores = this.#known.bores.of([stations], () => wholeBores(this.job, stations, this.#bores));
    return {
      job: this.job,
      bore: remembered(this.#known.bore, this.#gaugeOf(this.#bore.id) as GaugeState),
      micrometer: micrometer === undefined ? null : remembered(this.#known.micrometer, micrometer),
      lifters: this.#lifters.view(),
      stations,
      bores: this.#bores,
      references: this.#zeros.judged,
      stepCheck: this.#stepCheck.view,
      temperaturesMeasured: temperatures !== undefined && temperatures.blockC !== null && temperatures.lifterC !== null,
      lingering:
        here === null || closedMs === null
          ? null
          : {
              bore: here.bore,
              place: here.place,
              sweeps: here.collector.sweeps.filter((sweep) => sweep.tMs > closedMs),
            },
      stream: this.#known.stream.of(Object.values(this.#shape.seen), () => this.#shape.seen),
      farPressesNm: this.#farPressesNm,
    };
  }

  /** All that the closed stations and the references follow from. */
  #measured(): readonly unknown[] {
    return [this.#stations.revision, this.#zeros.judged];
  }

  #isComplete(): boolean {
    if (this.job.returnCheckEvery === 0) return this.#allMeasured();
    return this.#known.complete.of(this.#measured(), () =>
      this.#stations.all.every(({ collector: { closedMs } }) => closedMs !== null && this.#zeros.checked(closedMs)),
    );
  }

  #allMeasured(): boolean {
    return this.#known.allMeasured.of(this.#measured(), () =>
      this.#stations.all.every((station) => !this.#stations.isDue(station, this.#zeros.holds)),
    );
  }

  /** Bores finished since the last zero or return check. */
  #boresSinceCheck(): number {
    return this.#known.sinceCheck.of(this.#measured(), () => {
      const last = this.#zeros.judged.at(-1);
      return this.job.walk.filter((bore) => {
        const closedMs = this.#stations.boreClosedMs(bore);
        return closedMs !== null && (last === undefined || closedMs > last.tMs);
      }).length;
    });
  }

  #returnDue(): boolean {
    if (this.#zeros.zeroNm === null) return false;
    const since = this.#boresSinceCheck();
    if (this.#interrupted && !this.#complete) return true;
    if (this.job.returnCheckEvery === 0) return false;
    return since >= this.job.returnCheckEvery || (since > 0 && this.#allMeasured());
  }

  /** Nothing has been measured at the open bore, or none is open. */
  #betweenBores(): boolean {
    const here = this.#here;
    if (here === null) return true;
    if (this.#hereClosed) return false;
    return this.#stations
      .stationsOf(here.bore)
      .every(({ collector }) => collector.closedMs === null && !collector.hasSweep);
  }

  #guideInput(): GuideInput {
    const last = this.#zeros.judged.at(-1);
    return {
      step: this.#step,
      hasMicrometer: this.job.gauges.some((gauge) => gauge.role === "micrometer"),
      nextLifter: this.#lifters.next,
      hasZero: last !== undefined,
      referenceDone: this.#zeros.settled,
      referenceSweeps: this.#zeros.open?.sweeps.length ?? 0,
      zeroMoved: last !== undefined && !last.held,
      stepCheckPassed:
        this.#stepCheck.view.state === "passed" ? true : this.#stepCheck.view.state === "failed" ? false : null,
      returnDue: this.#returnDue(),
      betweenBores: this.#betweenBores(),
      interrupted: this.#interrupted,
      complete: this.#complete,
      sends: this.#bore.source ?? this.#bore.sends,
      typesLifters: this.job.gauges.some((gauge) => gauge.role === "micrometer" && gauge.source === "typed"),
    };
  }

  #nextBore(): string | null {
    const here = this.#here;
    if (here === null) return null;
    const after = this.#stations.all.find(
      (station) =>
        station.index > here.index && station.bore !== here.bore && this.#stations.isDue(station, this.#zeros.holds),
    );
    return after?.bore ?? null;
  }

  /** Clearance of a reading at a station by the findings' own computation, nm. */
  #clearanceNm(station: WalkStation, valueNm: Nm | null): Nm | null {
    if (valueNm === null || this.#zeros.judged.length === 0) return null;
    const frame = this.#fitFrame();
    const reading = { tMs: station.collector.closedMs ?? this.#tMs, valueNm };
    const clearanceNm = clearanceOf(frame, reading, fittedLifter(frame, station.bore));
    return clearanceNm === null ? null : toNm(clearanceNm);
  }

  #fitFrame(): Omit<FitInput, "stations"> {
    return fitFrame(this.job, {
      references: this.#zeros.judged,
      lifters: this.#lifters,
      gain: this.#gain,
      temperatures: this.#temperatures,
      fitted: this.#fitted,
    });
  }

  /** Another zero than before: everything that was measured over it is another. */
  #onZeroChanged(): void {
    this.#found.forget();
    this.#cutter.setFar(this.#farNm());
  }

  /** What the range of readings is counted from, nm: the zero, or what a new one reads so far; null while there is neither. */
  get #originNm(): Nm | null {
    const open = this.#zeros.open?.valueNm ?? null;
    return this.#zeros.beginsAnew ? open : (this.#zeros.zeroNm ?? open);
  }

  /** Readings above this are of a gauge in the air; null while nothing is known of its range. */
  #farNm(): Nm | null {
    const originNm = this.#originNm;
    return originNm === null ? null : farNm(originNm, this.job.limits, this.#gain);
  }

  /** Readings below this can be of no bore that a lifter was ever in. */
  #nearNm(): Nm | null {
    const zeroNm = this.#zeros.beginsAnew ? null : this.#zeros.zeroNm;
    return zeroNm === null ? null : nearNm(zeroNm, this.job.limits);
  }

  /** Whether the bore gauge's readings are being gathered into sweeps. */
  get #collects(): boolean {
    if (this.#zeros.open !== null || this.#stepCheck.open !== null) return true;
    return this.#step === "bores" && this.#zeros.zeroNm !== null;
  }

  get #streams(): boolean {
    return this.#bore.sends === "stream";
  }

  #where(): NoticeWhere {
    const here = this.#step === "bores" ? this.#here : null;
    if (here === null) return { gauge: this.#bore.id };
    return { gauge: this.#bore.id, bore: here.bore, height: here.place.height, clock: here.place.clock };
  }

  #raise(code: NoticeCode, text: string, where: NoticeWhere = {}): void {
    const notice = this.#board.raise(this.#tMs, code, text, where);
    if (notice !== null) this.#out.push({ type: "notice", t: this.#tMs, notice });
  }

  /** The same where another sentence may stand: the trouble is another now, and what is to be done about it. */
  #raiseNow(code: NoticeCode, text: string, where: NoticeWhere = {}): void {
    this.#cure(code, (notice) => notice.text !== text && notice.gauge === where.gauge && notice.bore === where.bore);
    this.#raise(code, text, where);
  }

  #cure(code: NoticeCode, which?: (notice: Notice) => boolean): void {
    for (const notice of this.#board.cure(this.#tMs, code, which)) {
      this.#out.push({ type: "cured", t: this.#tMs, notice });
    }
  }

  #gaugeOf(id: string): GaugeState | null {
    return this.#gauges.get(id) ?? null;
  }

  #boreProfile(): GaugeProfile {
    return this.#gaugeOf(this.#bore.id)?.profile ?? this.#bore;
  }

  #newCutter(): StreamCutter {
    const cutter = new StreamCutter({ resolutionNm: this.#bore.resolutionNm });
    cutter.setFar(this.#farNm());
    return cutter;
  }

  #newCollector(changed?: () => void): SweepCollector {
    const { sweepsPerStation, agreementNm } = this.job;
    return new SweepCollector(this.#bore.sends, { sweepsPerStation, agreementNm }, this.#bore.resolutionNm, changed);
  }
}

/** A gauge as the rules see it: the same object as long as they see nothing new. */
function remembered(known: Remembered<SeenGauge>, gauge: GaugeState): SeenGauge {
  return known.of([gauge.profile, gauge.decimals, gauge.step.smallestNm], () => seenGauge(gauge));
}
