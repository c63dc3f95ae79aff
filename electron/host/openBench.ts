import type { HostEvent, LiveReading, OpenSession, OperatorAction, PortSettings } from "../../core/bridge/messages.ts";
import type { BoreFinding } from "../../core/fit/finding.ts";
import { readTyped, type TypedUnit, typedLine } from "../../core/gauge/readTyped.ts";
import type { NextStep } from "../../core/session/guide.ts";
import { isLifter } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { pairingClash } from "../../core/session/pairingClash.ts";
import { Recording, type SessionHeader } from "../../core/session/recording.ts";
import { simulatedGauge, simulatedPath } from "../../core/session/simulatedPath.ts";
import type { ViewChange } from "../../core/session/view.ts";
import type { SavedState } from "./appendQueue.ts";
import { appName } from "./appName.ts";
import type { GaugePort } from "./gaugePort.ts";
import { LiveSession, type Untimed } from "./liveSession.ts";
import { Refusal } from "./refusal.ts";
import { lineTimeMs } from "./serialGaugePort.ts";
import { SessionClock } from "./sessionClock.ts";
import { SessionFile, type SessionFileOptions } from "./sessionFile.ts";
import { sha256 } from "./sha256.ts";
import type { MakeSimulation, Simulation } from "./simulation.ts";

/** How often the page hears about pending records, ms; trouble and its end are told at once. */
const SAVED_MS = 100;

/** Hears what a session says, and which session says it. */
type TellFrom = (event: HostEvent, from: OpenBench) => void;

interface BenchOptions {
  readonly file?: SessionFileOptions;
  readonly now?: () => number;
}

/** The session that is open in the host, to be worked on or only looked at. */
export class OpenBench {
  readonly id: string;
  readonly path: string;
  readonly recording: Recording;
  readonly readOnly: boolean;
  readonly #header: Pick<SessionHeader, "job" | "created" | "derivedFrom">;
  readonly #tell: (event: HostEvent) => void;
  #live: LiveSession | null = null;
  #simulation: Simulation | null = null;
  /** Where each connected gauge is. */
  readonly #paths = new Map<string, string>();
  #handsWork = false;
  #savedTimer: NodeJS.Timeout | null = null;
  #trouble: string | null = null;
  /** The findings that were told last, by bore. */
  readonly #told = new Map<string, BoreFinding>();

  private constructor(
    id: string,
    path: string,
    recording: Recording,
    header: Pick<SessionHeader, "job" | "created" | "derivedFrom">,
    readOnly: boolean,
    tell: TellFrom,
  ) {
    this.id = id;
    this.path = path;
    this.recording = recording;
    this.readOnly = readOnly;
    this.#header = header;
    this.#tell = (event) => tell(event, this);
  }

  /** Begins a session. @throws JobError, LockedError, FileExistsError */
  static async begin(
    id: string,
    path: string,
    job: unknown,
    created: Date,
    tell: TellFrom,
    { file: fileOptions = {}, now }: BenchOptions = {},
  ): Promise<OpenBench> {
    const recording = Recording.begin({ job, createdIso: created.toISOString(), app: appName, hash: sha256 });
    const header = JSON.parse(recording.headerText) as SessionHeader;
    const bench = new OpenBench(id, path, recording, header, false, tell);
    const file = await SessionFile.create(path, recording.headerText, false, {
      ...fileOptions,
      onState: (state) => bench.#onSaved(state),
    });
    bench.#live = bench.#makeLive(file, new SessionClock(0, now));
    return bench;
  }

  /** Opens a session to go on with it, or only to look; a broken seal makes it the latter. @throws SessionError, LockedError */
  static async open(
    id: string,
    path: string,
    readOnly: boolean,
    tell: TellFrom,
    { file: fileOptions = {}, now }: BenchOptions = {},
  ): Promise<OpenBench> {
    let bench: OpenBench | null = null;
    const options = {
      ...fileOptions,
      onState: (state: SavedState) => {
        if (bench !== null) bench.#onSaved(state);
      },
    };
    const opened = readOnly ? await SessionFile.look(path) : await SessionFile.open(path, options);
    const { recording, header } = opened.read;
    bench = new OpenBench(id, path, recording, header, opened.file === null, tell);
    if (opened.file !== null) {
      const clock = SessionClock.resume(recording.tMs, header.created, Date.now(), now);
      bench.#live = bench.#makeLive(opened.file, clock);
      if (opened.setAside !== null) bench.#live.record({ type: "torn", bytes: opened.setAside.bytes });
      bench.#live.record({ type: "resumed", app: appName });
    }
    return bench;
  }

  get simulating(): boolean {
    return this.#simulation !== null;
  }

  /** When the session was begun, ISO 8601. */
  get created(): string {
    return this.#header.created;
  }

  get saved(): SavedState {
    return this.#live?.saved ?? { pending: 0, trouble: null };
  }

  /** The session as it is on disk: what is still to be saved is not shown. */
  describe(): OpenSession {
    const { title } = this.recording.job;
    const live = this.#live;
    return {
      id: this.id,
      name: title === "" ? this.id : title,
      readOnly: this.readOnly,
      simulated: this.simulating || this.recording.simulated,
      simulating: this.simulating,
      ...(this.#header.derivedFrom === undefined ? {} : { derivedFrom: this.#header.derivedFrom }),
      job: this.#header.job as unknown as Record<string, unknown>,
      view: live !== null && live.saved.pending > 0 ? live.shown : this.recording.view(),
    };
  }

  /** Records what the operator does. @throws Refusal when the session is only looked at or names what is not there. */
  act(action: OperatorAction): void {
    const live = this.#work();
    this.#check(action);
    live.act(action);
  }

  /** A reading that a person typed, in `unit` unless it names its own. @throws Refusal for one that can not be used. */
  typeByHand(gauge: string, text: string, unit: TypedUnit): void {
    const live = this.#work();
    this.#needGauge(gauge);
    const read = readTyped(text, unit);
    if (!read.ok) throw new Refusal("not-a-reading", read.why);
    const line = typedLine(read);
    const why = this.recording.run.whyNotTyped(gauge, line);
    if (why !== null) throw new Refusal("not-a-reading", why);
    live.type(gauge, line, "hand");
  }

  type(gauge: string, line: string): void {
    const live = this.#work();
    this.#needGauge(gauge);
    // Typed text may hold what no serial line can; a record takes only what JSON can hold.
    const plain = line.replace(/[\r\n]+/g, " ").replace(/\p{Surrogate}/gu, "\uFFFD");
    if (plain.trim() !== "") live.type(gauge, plain);
  }

  async connect(gauge: string, settings: PortSettings, newPort: () => GaugePort): Promise<void> {
    const live = this.#work();
    this.#needGauge(gauge);
    const profile = this.recording.job.gauges.find((entry) => entry.id === gauge);
    this.#paths.delete(gauge);
    await live.connect(gauge, {
      newPort,
      path: settings.path,
      settleMs: Math.max(settings.settleMs, profile?.serial?.settleMs ?? 0),
      lineMs: lineTimeMs(settings),
    });
    this.#paths.set(gauge, settings.path);
  }

  /** The gauge that is connected at a path, or waits for it to come back; null for none. */
  gaugeOn(path: string): string | null {
    return [...this.#paths].find(([, used]) => used === path)?.[0] ?? null;
  }

  async disconnect(gauge: string): Promise<void> {
    await this.#work().disconnect(gauge);
    this.#paths.delete(gauge);
  }

  /** Puts simulated gauges on all of the job's gauges. */
  async simulate(make: MakeSimulation, seed: number): Promise<void> {
    const live = this.#work();
    const simulation = make({ job: this.recording.job, seed });
    this.#simulation = simulation;
    for (const [gauge, newPort] of simulation.ports) {
      await live.connect(gauge, { newPort, path: simulatedPath(gauge) });
      this.#paths.set(gauge, simulatedPath(gauge));
    }
  }

  /** A simulated gauge's port maker, by its path; null for any other path. */
  simulatedPort(path: string): (() => GaugePort) | null {
    const gauge = simulatedGauge(path);
    return gauge === null ? null : (this.#simulation?.ports.get(gauge) ?? null);
  }

  get simulatedPaths(): string[] {
    return [...(this.#simulation?.ports.keys() ?? [])].map(simulatedPath);
  }

  /** Lets the simulated person work or rest; `alone` takes every next step for them as well. @throws Refusal */
  run(on: boolean, alone: boolean): void {
    if (this.#simulation === null)
      throw new Refusal("not-simulated", "No simulated gauges are connected to this session.");
    this.#handsWork = on && alone;
    this.#simulation.run(on);
    if (on) this.#live?.moveOn();
  }

  /** Resolves when everything so far is on disk. @throws Error with the trouble's sentence. */
  async flush(): Promise<void> {
    await this.#live?.flush();
  }

  /** @throws Error when something could not be saved; everything is closed all the same. */
  async close(): Promise<void> {
    try {
      // The ports first: a simulation that ends under an open port looks like a pulled cable, and would be recorded as one.
      await this.#live?.close();
    } finally {
      this.#simulation?.close();
      // Closing records too, and what it records is saved late.
      if (this.#savedTimer !== null) clearTimeout(this.#savedTimer);
    }
  }

  #work(): LiveSession {
    if (this.#live !== null) return this.#live;
    throw new Refusal("read-only", "This session is open for reading only; nothing can be added to it.");
  }

  #makeLive(file: SessionFile, clock: SessionClock): LiveSession {
    return new LiveSession({
      recording: this.recording,
      file,
      clock,
      listener: {
        onOutcome: (outcome: Outcome) => {
          this.#tell({ type: "outcome", outcome });
          this.#simulation?.hear(outcome);
        },
        onView: (view: ViewChange) => this.#tellView(view),
        onReadings: (readings: readonly LiveReading[]) => this.#tell({ type: "readings", readings }),
      },
      moveOn: (next) => this.#stepAfter(next),
    });
  }

  /**
   * The step taken without being asked: what the guide may do by itself, and, while simulated hands work, every next
   * step, the step check after the first zero included.
   */
  #stepAfter(next: NextStep): Untimed | null {
    if (next.auto) return { type: "step", step: next.step, by: "guide" };
    if (!this.#handsWork) return null;
    const { run } = this.recording;
    if (next.step === "bores" && run.stepCheck.state === "not done") {
      return { type: "step", step: "step-check", by: "guide" };
    }
    const [lifter] = this.recording.job.walk;
    const set = next.step === "zero" && lifter !== undefined ? { lifter } : {};
    return { type: "step", step: next.step, by: "guide", ...set };
  }

  /** Tells a picture; of the findings those that the page has not. */
  #tellView({ bores, measured, ...rest }: ViewChange): void {
    const news = (bores ?? measured ?? []).filter((finding) => this.#told.get(finding.name) !== finding);
    for (const finding of news) this.#told.set(finding.name, finding);
    this.#tell({ type: "view", view: news.length === 0 ? rest : { ...rest, measured: news } });
  }

  #onSaved(state: SavedState): void {
    if (state.trouble !== this.#trouble) {
      this.#trouble = state.trouble;
      this.#tell({ type: "saved", ...state });
      return;
    }
    this.#savedTimer ??= setTimeout(() => {
      this.#savedTimer = null;
      this.#tell({ type: "saved", ...this.saved });
    }, SAVED_MS);
  }

  #needGauge(gauge: string): void {
    if (this.recording.job.gauges.some((entry) => entry.id === gauge)) return;
    throw new Refusal("no-such-gauge", `The job has no gauge "${gauge}".`);
  }

  #check(action: OperatorAction): void {
    const { job } = this.recording;
    if ((action.type === "go" || action.type === "feel") && !job.walk.includes(action.bore)) {
      throw new Refusal("no-such-bore", `The walk has no bore "${action.bore}".`);
    }
    if (action.type === "go" && action.station !== undefined) {
      const { height, clock } = action.station;
      if (!job.stations.some((place) => place.height === height && place.clock === clock)) {
        throw new Refusal("no-such-station", `The job has no station ${height} ${clock}.`);
      }
    }
    if (action.type === "step" && action.lifter !== undefined) {
      const { lifter } = action;
      if (!isLifter(job, lifter)) throw new Refusal("no-such-lifter", `The job has no lifter "${lifter}".`);
    }
    if (action.type === "pairing") {
      const clash = pairingClash(job, action.assignments);
      if (clash !== null) throw new Refusal("no-pairing", clash);
    }
    if (action.type === "correct") this.#needGauge(action.gauge);
    const words = action.type === "note" ? action.text : action.type === "feel" ? `${action.oil} ${action.note}` : "";
    if (/\p{Surrogate}/u.test(words)) {
      throw new Refusal("bad-input", "The note holds characters that cannot be written down.");
    }
  }
}
