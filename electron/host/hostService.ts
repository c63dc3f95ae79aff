import { readFile } from "node:fs/promises";
import {
  type Envelope,
  type HostEvent,
  type MethodName,
  type MethodOutput,
  methods,
  type PortSettings,
  type RememberedGauge,
  type TaughtGauge,
} from "../../core/bridge/messages.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { powerInWords } from "../../core/gauge/teach/serialSetting.ts";
import { resultOf } from "../../core/report/result.ts";
import { resultBySmallestReading } from "../../core/report/smallestReadingResult.ts";
import { boresTable, liftersTable, stationsTable, sweepsTable } from "../../core/report/tables.ts";
import { resultUnder } from "../../core/report/whatIf.ts";
import { deriveByEvent } from "../../core/session/derive.ts";
import type { JobGauge } from "../../core/session/job.ts";
import { jobFileWithDefaults, parseJob } from "../../core/session/jobFile.ts";
import type { z } from "../../core/zod.ts";
import { appName, appVersion } from "./appName.ts";
import { csvOf } from "./csv.ts";
import { diskSentence } from "./diskSentence.ts";
import { FootSwitch } from "./footSwitch.ts";
import type { GaugePort } from "./gaugePort.ts";
import { takeGivenFile } from "./givenFile.ts";
import { answerHandover, answerParcel, answerReport, sessionInParcel } from "./handoverAnswers.ts";
import { OpenBench } from "./openBench.ts";
import { type KnownAdapter, OwnAdapterPort } from "./ownAdapter.ts";
import { plainFileName } from "./plainFileName.ts";
import { PortList } from "./portList.ts";
import { PortMemory } from "./portMemory.ts";
import { Refusal, refusalOf } from "./refusal.ts";
import { answerCompare, answerPairing, answerPlanning, answerRemedy, answerWhatIf } from "./remedyAnswers.ts";
import { SerialGaugePort } from "./serialGaugePort.ts";
import { inSlices, readSessionInSlices, type SessionFileOptions } from "./sessionFile.ts";
import { SessionFolder } from "./sessionFolder.ts";
import { SettingsFile } from "./settingsFile.ts";
import { sha256 } from "./sha256.ts";
import type { MakeSimulation } from "./simulation.ts";
import { answerFile, answerSession } from "./studyAnswers.ts";
import { TeachDesk } from "./teachDesk.ts";
import { TrafficLog } from "./trafficLog.ts";

export interface HostOptions {
  readonly shell: "window" | "loopback";
  /** Folder of the sessions; made if it is not there. */
  readonly folder: string;
  /** Where simulated gauges come from; without it none can be had. */
  readonly simulation?: MakeSimulation;
  /** Makes a port for one opening; a serial one unless said otherwise. */
  readonly newPort?: (settings: PortSettings) => GaugePort;
  readonly ports?: (onChange: () => void) => PortList;
  /** Writes the report as a PDF, where whoever carries the host can do so. */
  readonly writeReportPdf?: WriteReportPdf;
  /** How the session files are written; tests let the disk fail by it. */
  readonly file?: SessionFileOptions;
  /** The monotonic clock of the sessions, ms; tests let it run faster. */
  readonly now?: () => number;
}

/** A report to be written as a PDF. */
export interface ReportToWrite {
  /** One whole page (HTML) that needs nothing else. */
  readonly html: string;
  readonly paper: "A4" | "Letter";
  /** Of the file, as proposed to the person. */
  readonly name: string;
}

/** Writes a report where the person chooses, and says where; null if they chose no place. @throws Refusal, Error */
export type WriteReportPdf = (report: ReportToWrite) => Promise<string | null>;

/** Who calls: a second tab may look, not act. */
export interface Caller {
  readonly mayAct: boolean;
}

type Input<M extends MethodName> = z.output<(typeof methods)[M]["in"]>;
type Handlers = { readonly [M in MethodName]: (input: Input<M>, caller: Caller) => Promise<MethodOutput<M>> };

/** What a caller who may only look may call. */
const LOOKING: ReadonlySet<MethodName> = new Set<MethodName>([
  "app.info",
  "job.check",
  "sessions.list",
  "session.export",
  "session.recheck",
  "session.report",
  "parcel.open",
  "session.whatIf",
  "session.pairing",
  "session.remedy",
  "session.planning",
  "session.compare",
  "session.study",
  "study.read",
  "settings.read",
  "ports.list",
]);

const MAY_NOT_WRITE: ReadonlySet<string> = new Set(["EROFS", "EACCES", "EPERM"]);

/** Calls that open or close something; they wait for each other. */
const ONE_AT_A_TIME: ReadonlySet<MethodName> = new Set<MethodName>([
  "session.new",
  "session.open",
  "session.close",
  "gauge.connect",
  "gauge.disconnect",
  "gauge.teach",
  "gauge.teachStop",
  "switch.connect",
  "switch.disconnect",
]);

/** Everything behind the bridge: answers its methods and tells its events. Knows nothing of windows. */
export class HostService {
  readonly #options: HostOptions;
  readonly #folder: SessionFolder;
  readonly #ports: PortList;
  readonly #memory: PortMemory;
  readonly #settings: SettingsFile;
  readonly #switch = new FootSwitch(
    (state) => this.#tell({ type: "switch", ...state }),
    (line) => this.#tell({ type: "switch", ...this.#switch.state, line }),
  );
  readonly #listeners = new Set<(event: HostEvent) => void>();
  #bench: OpenBench | null = null;
  /** What reading the whole file once found, of sessions that are only looked at. */
  readonly #seals = new WeakMap<OpenBench, "intact" | "broken">();
  #teaching: TeachDesk | null = null;
  readonly #traffic: TrafficLog;
  #turn: Promise<unknown> = Promise.resolve();
  #telling: Promise<void> = Promise.resolve();

  private constructor(options: HostOptions) {
    this.#options = options;
    this.#folder = new SessionFolder(options.folder, () => void this.#tellSessions());
    this.#memory = new PortMemory(options.folder);
    this.#settings = new SettingsFile(options.folder);
    this.#traffic = new TrafficLog((entries) => this.#tell({ type: "traffic", entries }));
    const onChange = () => this.#tellPorts();
    this.#ports = options.ports?.(onChange) ?? new PortList(onChange);
  }

  /** @throws Error when the folder of the sessions cannot be made. */
  static async open(options: HostOptions): Promise<HostService> {
    const host = new HostService(options);
    await host.#folder.make();
    host.#ports.start();
    return host;
  }

  /** Answers a call; never throws. What comes in is not trusted: method and input are checked here. */
  async call(method: string, input: unknown, caller: Caller): Promise<Envelope<unknown>> {
    if (!Object.hasOwn(methods, method)) {
      return { ok: false, code: "no-such-method", message: `The host has no method "${method}".` };
    }
    const name = method as MethodName;
    if (!caller.mayAct && !LOOKING.has(name)) {
      return { ok: false, code: "may-not-act", message: "Another tab is in charge; this one may only look." };
    }
    const parsed = methods[name].in.safeParse(input);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const where = issue === undefined || issue.path.length === 0 ? "" : `${issue.path.map(String).join(".")}: `;
      return { ok: false, code: "bad-input", message: `${name}: ${where}${issue?.message ?? "not what is expected"}` };
    }
    const handle = this.#handlers[name] as (input: unknown, caller: Caller) => Promise<unknown>;
    const answer = async (): Promise<Envelope<unknown>> => {
      try {
        return { ok: true, value: await handle(parsed.data, caller) };
      } catch (error) {
        return refusalOf(error);
      }
    };
    return ONE_AT_A_TIME.has(name) ? this.#inTurn(answer) : answer();
  }

  /** Tells the present state at once and every event from here on; the answer stops it. */
  listen(onEvent: (event: HostEvent) => void): () => void {
    this.#listeners.add(onEvent);
    onEvent(this.#sessionEvent());
    onEvent({ type: "ports", ports: this.#portEntries() });
    onEvent({ type: "switch", ...this.#switch.state });
    onEvent({ type: "saved", ...(this.#bench?.saved ?? { pending: 0, trouble: null }) });
    void this.#remembered().then((profiles) => {
      if (this.#listeners.has(onEvent)) onEvent({ type: "profiles", profiles });
    });
    return () => this.#listeners.delete(onEvent);
  }

  /** Takes a file that a person opened with the program, and tells the page; for a shell, never over the bridge. */
  async give(path: string): Promise<void> {
    const given = await takeGivenFile(path, this.#folder);
    if (given.kind === "session") void this.#tellSessions();
    this.#tell({ type: "given", given });
  }

  /**
   * Closes the session and all ports. @throws Error when something could not be saved; while the session is still
   * open for it, everything else goes on as well.
   */
  async close(): Promise<void> {
    const lost: unknown[] = [];
    await this.#inTurn(async () => {
      await this.#closeBench().catch((error: unknown) => {
        if (this.#bench !== null) throw error;
        lost.push(error);
      });
      await this.#stopTeaching();
      await this.#switch.disconnect();
    });
    this.#ports.stop();
    this.#traffic.unwatch();
    await this.#telling;
    await this.#folder.close();
    if (lost.length > 0) throw lost[0];
  }

  readonly #handlers: Handlers = {
    "app.info": async (_input, caller) => ({
      version: appVersion,
      shell: this.#options.shell,
      folder: this.#folder.path,
      mayAct: caller.mayAct,
      writesPdf: this.#options.writeReportPdf !== undefined,
    }),

    "job.check": async ({ job }) => ({ job: { ...jobFileWithDefaults(job) } }),

    "sessions.list": async () => ({ sessions: await this.#list() }),

    "session.new": async ({ job, simulate, seed }) => {
      const { title } = parseJob(job);
      const simulation = simulate ? this.#needSimulation() : null;
      await this.#closeBench();
      const created = new Date();
      // Begun or not: the one before is closed, and the page must not go on showing it.
      try {
        const id = await this.#folder.freeId(title, created);
        const path = this.#folder.pathOf(id);
        this.#bench = await OpenBench.begin(id, path, job, created, this.#tellFrom, this.#options);
        if (simulation !== null) await this.#bench.simulate(simulation, seed ?? seedOf(created));
      } finally {
        this.#tellOpened();
      }
      const bench = this.#bench;
      if (!simulate) void this.#connectRemembered(bench);
      return { id: bench.id };
    },

    "session.open": async ({ id, readOnly, simulate, seed }) => {
      const simulation = simulate ? this.#needSimulation() : null;
      const path = this.#folder.pathOf(id);
      if (this.#bench?.id === id && this.#bench.readOnly === readOnly) return { id };
      await this.#closeBench();
      const bench = await OpenBench.open(id, path, readOnly, this.#tellFrom, this.#options).catch((error: unknown) => {
        this.#tellOpened();
        const { code = "" } = error as NodeJS.ErrnoException;
        if (code === "ENOENT") throw new Refusal("no-such-session", `There is no session "${id}" any more.`);
        if (MAY_NOT_WRITE.has(code)) {
          throw new Refusal("disk", `${path}: ${diskSentence(error)}; or open the session only to look at it.`);
        }
        throw error;
      });
      this.#bench = bench;
      // Never on the record of a real block: what follows would be taken for it.
      const again = simulation !== null && bench.recording.simulated && !bench.readOnly;
      try {
        if (again) await bench.simulate(simulation, seed ?? seedOf(new Date(bench.created)));
      } finally {
        this.#tellOpened();
      }
      if (!bench.readOnly && !again) void this.#connectRemembered(bench);
      return { id };
    },

    "session.adopt": async ({ name, content }) => {
      const id = await this.#folder.adopt(name, content);
      void this.#tellSessions();
      return { id };
    },

    "session.close": async () => {
      await this.#closeBench();
      this.#tellOpened();
      return {};
    },

    "session.act": async ({ action }) => {
      this.#need().act(action);
      return {};
    },

    "session.type": async ({ gauge, line }) => {
      this.#need().type(gauge, line);
      return {};
    },

    "session.typeByHand": async ({ gauge, text, unit }) => {
      this.#need().typeByHand(gauge, text, unit);
      return {};
    },

    "session.export": async ({ kind, decimal }) => {
      const bench = this.#need();
      const stem = stemOf(bench.id);
      if (kind === "session") {
        await bench.flush();
        return { name: `${stem}.bwsession`, content: await readFile(bench.path, "utf8") };
      }
      const result = resultOf(bench.recording, await this.#seal(bench));
      if (kind === "result.json") {
        return { name: `${stem}.result.json`, content: `${JSON.stringify(result, null, 2)}\n` };
      }
      const table = TABLES[kind](result);
      return { name: `${stem}.${kind}`, content: csvOf(table, decimal) };
    },

    "session.handover": async (wish) => {
      const bench = this.#need();
      const stem = stemOf(bench.id);
      return answerHandover(await this.#bytesOf(bench), stem, this.#folder.path, wish);
    },

    "session.report": async (choices) => answerReport(await this.#bytesOf(this.#need()), choices),

    "session.reportPdf": async ({ paper, ...choices }) => {
      const write = this.#options.writeReportPdf;
      if (write === undefined) {
        throw new Refusal(
          "no-pdf",
          "No PDF can be written from here. Print the report; the browser can save it as PDF.",
        );
      }
      const bench = this.#need();
      const name = `${bench.id.replace(/\.bwsession$/, "")}.report.pdf`;
      const { html } = await answerReport(await this.#bytesOf(bench), choices);
      return { path: await write({ html, paper, name }) };
    },

    "parcel.open": async ({ content, remember, accept }, caller) =>
      // Who may only look leaves no trace.
      answerParcel(Buffer.from(content, "base64"), this.#folder.path, {
        remember: remember && caller.mayAct,
        accept: caller.mayAct ? accept : undefined,
      }),

    "parcel.adopt": async ({ name, content }) => {
      const session = await sessionInParcel(Buffer.from(content, "base64"));
      const id = await this.#folder.adopt(`${name.replace(/\.bwparcel$/i, "")}.bwsession`, session);
      void this.#tellSessions();
      return { id };
    },

    "session.derive": async ({ changes, why }) => {
      const bench = this.#need();
      await bench.flush();
      const created = new Date();
      const { text } = await inSlices(
        deriveByEvent({
          parent: await readSessionInSlices(await readFile(bench.path)),
          parentName: bench.id,
          changes: changes.map(({ bore, station, ...rest }) => ({
            ...(bore === undefined ? {} : { bore }),
            ...(station === undefined ? {} : { station }),
            ...rest,
          })),
          why,
          createdIso: created.toISOString(),
          app: appName,
          hash: sha256,
        }),
      );
      const id = await this.#folder.adopt(`${stemOf(bench.id)}-derived.bwsession`, text);
      void this.#tellSessions();
      return { id };
    },

    "session.recheck": async ({ limits, rule, agreement, sweepsPerStation, sweepValue }) => {
      const bench = this.#need();
      await bench.flush();
      const job = {
        ...(agreement === undefined ? {} : { agreement }),
        ...(sweepsPerStation === undefined ? {} : { sweepsPerStation }),
      };
      // Judged by other rules, nothing need agree with what was recorded: that is looked at by the rules of then.
      const asRecorded = Object.keys(job).length === 0;
      const bytes = await readFile(bench.path);
      const { recording, broken, differences } = await readSessionInSlices(bytes, asRecorded ? {} : { job });
      const seal = broken.length === 0 ? "intact" : "broken";
      const judge = sweepValue === "smallest-reading" ? resultBySmallestReading : resultUnder;
      const result = judge(recording, seal, {
        ...(limits === "job" ? {} : { limits: SHIPPED_LIMITS[limits] }),
        ...(rule === "job" ? {} : { rule }),
      });
      const breaks = broken.map(({ line, why }) => `line ${line}: ${why}`);
      return {
        agrees: differences.length === 0 && broken.length === 0,
        seal,
        differences: [...breaks, ...differences],
        result,
      };
    },

    "session.whatIf": async (input) => {
      const bench = this.#need();
      return answerWhatIf(bench.recording, await this.#knownSeal(bench), input);
    },

    "session.pairing": async (input) => answerPairing(this.#need().recording, input),

    "session.remedy": async (input) => answerRemedy(this.#need().recording, input),

    "session.planning": async (input) => answerPlanning(this.#need().recording, input),

    "session.compare": async (input) => answerCompare(this.#need(), (id) => this.#folder.pathOf(id), input),

    "session.study": async () => answerSession(this.#need().recording),

    "study.read": async ({ content, band }) => answerFile(content, band),

    "settings.read": async () => ({ settings: await this.#settings.read() }),

    "settings.keep": async ({ settings }) => {
      await this.#settings.keep(settings);
      return {};
    },

    "switch.connect": async ({ settings }) => {
      await this.#switch.connect(settings.path, this.#portMaker(settings, null));
      this.#tellPorts();
      return {};
    },

    "switch.disconnect": async () => {
      await this.#switch.disconnect();
      this.#tellPorts();
      return {};
    },

    "ports.list": async () => {
      await this.#ports.ask();
      return { ports: this.#portEntries() };
    },

    "gauge.connect": async ({ gauge, settings }) => {
      const bench = this.#need();
      await this.#stopTeaching();
      const simulated = bench.simulatedPort(settings.path);
      const profile = bench.recording.job.gauges.find(({ id }) => id === gauge) ?? null;
      await bench.connect(
        gauge,
        settings,
        simulated === null ? this.#portMaker(settings, profile) : this.#tapped(settings, profile, simulated),
      );
      if (simulated === null) {
        const before = await this.#memory.recall(gauge);
        await this.#remember(gauge, settings, before?.taught ?? null);
      }
      this.#tellPorts();
      return {};
    },

    "gauge.disconnect": async ({ gauge }) => {
      await this.#need().disconnect(gauge);
      this.#tellPorts();
      return {};
    },

    "gauge.teach": async ({ paths, start, search, unit }) => {
      await this.#stopTeaching();
      const free = paths.filter((path) => (this.#bench?.gaugeOn(path) ?? null) === null);
      if (free.length === 0) {
        throw new Refusal("port-used", "That port is in use by a gauge of this session: disconnect it there first.");
      }
      const desk = new TeachDesk({
        ports: free.map((path) => ({
          path,
          label: this.#ports.ports.find((port) => port.path === path)?.label ?? path,
          newPort: (setting) => {
            const settings = { path, ...setting, settleMs: 0 };
            const simulated = this.#bench?.simulatedPort(path) ?? null;
            return simulated === null ? this.#portMaker(settings, null)() : this.#tapped(settings, null, simulated)();
          },
        })),
        start,
        search,
        unit,
        tell: (teaching) => this.#tell({ type: "teaching", teaching }),
      });
      this.#teaching = desk;
      await desk.start();
      return {};
    },

    "gauge.teachTake": async ({ path }) => {
      this.#needTeaching().take(path);
      return {};
    },

    "gauge.teachHand": async ({ setting, unit, search }) => {
      await this.#needTeaching().byHand({
        ...(setting === undefined ? {} : { setting }),
        ...(unit === undefined ? {} : { unit }),
        ...(search === undefined ? {} : { search }),
      });
      return {};
    },

    "gauge.teachAsk": async ({ text }) => {
      await this.#needTeaching().ask(text);
      return {};
    },

    "gauge.teachStop": async () => {
      await this.#stopTeaching();
      return {};
    },

    "profile.keep": async ({ gauge, settings, taught }) => {
      await this.#remember(gauge, settings, taught);
      return {};
    },

    "profile.forget": async ({ gauge }) => {
      await this.#memory.forget(gauge);
      await this.#tellRemembered();
      return {};
    },

    "traffic.watch": async ({ on, after }) => {
      if (on) this.#traffic.watch(after);
      else this.#traffic.unwatch();
      return {};
    },

    "simulate.run": async ({ run, alone }) => {
      this.#need().run(run, alone);
      return {};
    },
  };

  #need(): OpenBench {
    if (this.#bench !== null) return this.#bench;
    throw new Refusal("no-session", "No session is open.");
  }

  #needSimulation(): MakeSimulation {
    const { simulation } = this.#options;
    if (simulation !== undefined) return simulation;
    throw new Refusal("no-simulation", "Simulated gauges are not part of this program.");
  }

  async #bytesOf(bench: OpenBench): Promise<Buffer> {
    await bench.flush();
    return readFile(bench.path);
  }

  async #seal(bench: OpenBench): Promise<"intact" | "broken"> {
    await bench.flush();
    return (await readSessionInSlices(await readFile(bench.path))).broken.length === 0 ? "intact" : "broken";
  }

  // A session whose seal is broken opens for reading only; of one that is written, what is on file was read or sealed here.
  async #knownSeal(bench: OpenBench): Promise<"intact" | "broken"> {
    if (!bench.readOnly) return "intact";
    const seal = this.#seals.get(bench) ?? (await this.#seal(bench));
    this.#seals.set(bench, seal);
    return seal;
  }

  async #closeBench(): Promise<void> {
    const bench = this.#bench;
    if (bench === null) return;
    // While the disk refuses, the session stays open: what is held in memory must not go with it.
    await bench.flush().catch((error: unknown) => {
      throw new Refusal("not-saved", error instanceof Error ? error.message : String(error));
    });
    this.#bench = null;
    await bench.close().catch((error: unknown) => {
      this.#tellOpened();
      throw error;
    });
  }

  #needTeaching(): TeachDesk {
    if (this.#teaching !== null) return this.#teaching;
    throw new Refusal("not-teaching", "No gauge is being taught.");
  }

  async #stopTeaching(): Promise<void> {
    const teaching = this.#teaching;
    this.#teaching = null;
    if (teaching === null) return;
    await teaching.stop();
    this.#tell({ type: "teaching", teaching: null });
  }

  // A port that is not remembered is chosen again; that is no reason to refuse it.
  async #remember(gauge: string, settings: PortSettings, taught: TaughtGauge | null): Promise<void> {
    const port = this.#ports.ports.find(({ path }) => path === settings.path);
    const { adapter = null, kind = null, label = settings.path } = port ?? {};
    await this.#memory.remember(gauge, { settings, adapter, kind, label, taught }).catch(() => {});
    await this.#tellRemembered();
  }

  async #remembered(): Promise<RememberedGauge[]> {
    const all = Object.entries(await this.#memory.all());
    return Promise.all(
      all.map(async ([gauge, { settings, label, taught }]) => ({
        gauge,
        settings,
        label: label === "" ? settings.path : label,
        taught,
        ...(await this.#memory.find(gauge, this.#ports.ports)),
      })),
    );
  }

  async #tellRemembered(): Promise<void> {
    this.#tell({ type: "profiles", profiles: await this.#remembered() });
  }

  #tapped(settings: PortSettings, profile: JobGauge | null, newPort: () => GaugePort): () => GaugePort {
    const { baud, framing, dtr, rts, path } = settings;
    const words = `${baud}, ${framing}, ${powerInWords({ baud, framing, dtr, rts })}`;
    return () => this.#traffic.tap(path, words, profile, newPort());
  }

  // An adapter plugged in elsewhere has another path, and another one may have taken the path it had.
  #portMaker(settings: PortSettings, profile: JobGauge | null, remembered: string | null = null): () => GaugePort {
    const make = this.#options.newPort ?? ((chosen: PortSettings) => new SerialGaugePort(chosen));
    const at = (path: string) => {
      const now = { ...settings, path };
      return this.#tapped(now, profile, () => make(now))();
    };
    const listed = this.#ports.ports.find((port) => port.path === settings.path);
    const known: KnownAdapter | undefined =
      remembered === null ? listed : { adapter: remembered, kind: remembered.split(":").slice(0, 2).join(":") };
    if (known === undefined || (known.adapter === null && known.kind === null)) return () => at(settings.path);
    return () => new OwnAdapterPort(this.#ports, known, settings.path, at);
  }

  async #connectRemembered(bench: OpenBench): Promise<void> {
    await this.#ports.ask();
    for (const gauge of bench.recording.job.gauges) {
      const { id } = gauge;
      const port = await this.#memory.recall(id);
      const { path } = await this.#memory.find(id, this.#ports.ports);
      if (port === null || path === null || this.#bench !== bench) continue;
      await this.#inTurn(async () => {
        if (
          this.#bench !== bench ||
          bench.recording.view().gauges.some((view) => view.id === id && view.link === "open")
        ) {
          return;
        }
        const settings = { ...port.settings, path };
        // A gauge that is not plugged in is no trouble yet: the strip shows that it is not connected.
        await bench.connect(id, settings, this.#portMaker(settings, gauge, port.adapter)).catch(() => {});
        this.#tellPorts();
      });
    }
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const mine = this.#turn.then(work, work);
    this.#turn = mine.catch(() => {});
    return mine;
  }

  #portEntries() {
    return [
      ...this.#ports.ports.map(({ path, label, fresh }) => {
        const { link, path: pedals } = this.#switch.state;
        const trodden = link === "open" && pedals === path ? "foot switch" : null;
        const usedBy = this.#bench?.gaugeOn(path) ?? trodden;
        return { path, label, simulated: false, fresh: fresh && usedBy === null, usedBy };
      }),
      ...(this.#bench?.simulatedPaths ?? []).map((path) => ({
        path,
        label: `${path.replace(/^simulated:/, "")} (simulated gauge)`,
        simulated: true,
        fresh: false,
        usedBy: this.#bench?.gaugeOn(path) ?? null,
      })),
    ];
  }

  #sessionEvent(): HostEvent {
    return { type: "session", session: this.#bench?.describe() ?? null };
  }

  #tellOpened(): void {
    this.#tell(this.#sessionEvent());
    this.#tell({ type: "saved", ...(this.#bench?.saved ?? { pending: 0, trouble: null }) });
    this.#tellPorts();
    void this.#tellSessions();
  }

  #tellPorts(): void {
    this.#tell({ type: "ports", ports: this.#portEntries() });
    void this.#tellRemembered();
  }

  #tellSessions(): Promise<void> {
    const tell = async () => this.#tell({ type: "sessions", sessions: await this.#list() });
    this.#telling = this.#telling.then(tell, tell).catch(() => {});
    return this.#telling;
  }

  // One that is open for reading only may be broken, which its file says.
  #list() {
    const bench = this.#bench;
    return this.#folder.list(bench === null || bench.readOnly ? null : bench);
  }

  // What a session still says while it is being closed must not be taken for the next one's.
  readonly #tellFrom = (event: HostEvent, from: OpenBench): void => {
    if (this.#bench === from) this.#tell(event);
  };

  #tell(event: HostEvent): void {
    for (const listener of this.#listeners) listener(event);
  }
}

/** What files made of a session are called after it: it may have been put into the folder under any name. */
const stemOf = (id: string): string => plainFileName(id.replace(/\.bwsession$/, "")) || "session";

const TABLES = {
  "stations.csv": stationsTable,
  "bores.csv": boresTable,
  "lifters.csv": liftersTable,
  "sweeps.csv": sweepsTable,
} as const;

/** The simulated block of a session for which none was asked: the same again when it is opened again. */
function seedOf(created: Date): number {
  return created.getTime() % 2_147_483_647;
}
