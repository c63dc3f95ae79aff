import type { Nm } from "../../core/length/nm.ts";
import type { StepName } from "../../core/session/event.ts";
import type { NextStep } from "../../core/session/guide.ts";
import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { PortError } from "../host/gaugePort.ts";
import { LiveSession, type Untimed } from "../host/liveSession.ts";
import { lineTimeMs, SerialGaugePort } from "../host/serialGaugePort.ts";
import { type Io, WrongUse } from "./io.ts";
import { KeyError, parseKeys, parseOpened } from "./operatorKeys.ts";
import type { GaugeOnPort } from "./portOption.ts";
import type { Work } from "./work.ts";

/** How a walk by ports moves on without a screen. */
export interface Guided {
  /** The lifter that the operator is told to set the micrometer to for the zero. */
  readonly lifter: string;
  /** How far the micrometer is opened for the step check; null skips it. */
  readonly stepCheckNm: number | null;
  /** How long a lost gauge is waited for before the walk ends, ms. */
  readonly patienceMs: number;
}

/** Reads the options of a guided walk. @throws WrongUse */
export function readGuided(
  values: { lifter: string | undefined; "step-check": string | undefined; patience: string | undefined },
  job: Job,
): Guided {
  const { lifter, patience } = values;
  const first = job.walk[0] ?? "";
  if (lifter !== undefined && !job.layout.bores.some((bore) => bore.name === lifter)) {
    throw new WrongUse(`walk: --lifter ${lifter}: expected a bore of the layout, such as ${first}`);
  }
  const seconds = patience === undefined ? 60 : Number(patience);
  if (!(seconds >= 0 && seconds <= 86_400)) {
    throw new WrongUse(`walk: --patience ${patience}: expected seconds from 0 to 86400`);
  }
  return { lifter: lifter ?? first, stepCheckNm: stepOption(values["step-check"]), patienceMs: seconds * 1000 };
}

function stepOption(text: string | undefined): number | null {
  if (text === undefined) return null;
  try {
    return parseOpened(text);
  } catch (error) {
    if (error instanceof KeyError) throw new WrongUse(`walk: --step-check: ${error.message}`);
    throw error;
  }
}

/**
 * Walks with gauges on serial ports until the walk is complete, the user stops it, or every gauge was away for longer
 * than is waited for.
 * @throws WrongUse when a port cannot be opened.
 */
export async function walkPorts(work: Work, ports: readonly GaugeOnPort[], guided: Guided, io: Io): Promise<void> {
  const ending = new Ending();
  const away = new Map<string, boolean>();
  const guide = guideBy(guided, work, ports);
  const session = new LiveSession({
    recording: work.recording,
    file: work.file,
    clock: work.clock,
    listener: {
      onOutcome(outcome: Outcome) {
        work.announce(outcome);
        if (outcome.type === "step" && outcome.step === "zero" && guide.setTo !== null) {
          work.guide(zeroSentence(guide.setTo), outcome.t);
          guide.setTo = null;
        }
        if (outcome.type === "complete") ending.now();
      },
    },
    moveOn: guide.moveOn,
    onLink(gauge, link) {
      away.set(gauge, link === "lost");
      if (ports.every((port) => away.get(port.gauge) === true)) ending.in(guided.patienceMs);
      else ending.notYet();
    },
  });
  const stop = () => ending.now();
  io.stop.addEventListener("abort", stop);
  if (io.stop.aborted) ending.now();
  try {
    for (const { gauge, profile, settings } of ports) {
      await session.connect(gauge, {
        newPort: () => new SerialGaugePort(settings),
        path: settings.path,
        settleMs: profile.serial?.settleMs ?? 0,
        lineMs: lineTimeMs(settings),
      });
    }
    session.moveOn();
    void listenToKeys(session, work.job, io);
    if (work.recording.run.complete) ending.now();
    await ending.reached;
  } catch (error) {
    if (error instanceof PortError) throw new WrongUse(`walk: --port: ${error.message}`);
    throw error;
  } finally {
    io.stop.removeEventListener("abort", stop);
    await untilKept(session, io);
    await session.close();
  }
}

const KEPT_AGAIN_MS = 1000;

/** Waits while the disk refuses, since what is held in memory would go with the program; not after a second Ctrl-C. */
async function untilKept(session: LiveSession, io: Io): Promise<void> {
  const left = new Promise<void>((resolve) => {
    if (io.leave.aborted) resolve();
    else io.leave.addEventListener("abort", () => resolve(), { once: true });
  });
  for (let said = false; !io.leave.aborted; said = true) {
    const kept = await Promise.race([left, session.flush().then(() => true)]).catch(() => false);
    if (kept !== false) return;
    if (!said) io.err("The walk ends once that is saved. Ctrl-C again ends it now, and what is not saved is lost.\n");
    await Promise.race([left, new Promise((resolve) => setTimeout(resolve, KEPT_AGAIN_MS))]);
  }
}

const zeroSentence = (lifter: string) =>
  `Set the micrometer to lifter ${lifter}, lock it, and take the bore gauge's smallest reading in it.`;

/** The guide of a walk without a screen; `setTo` is the lifter of a zero it has begun and not yet told of. */
function guideBy(guided: Guided, work: Work, ports: readonly GaugeOnPort[]) {
  const hasMicrometer = ports.some((port) => port.profile.role === "micrometer");
  const guide = {
    setTo: null as string | null,
    moveOn(next: NextStep, from: StepName | null): Untimed | null {
      if (next.step === "zero" || (next.step === "lifters" && !hasMicrometer)) {
        guide.setTo = guided.lifter;
        return { type: "step", step: "zero", by: "guide", lifter: guided.lifter };
      }
      const unproved = work.recording.view().stepCheck.state === "not done";
      if (from === "zero" && next.step === "bores" && guided.stepCheckNm !== null && unproved) {
        return { type: "step", step: "step-check", by: "guide", openedNm: guided.stepCheckNm as Nm };
      }
      return { type: "step", step: next.step, by: "guide" };
    },
  };
  return guide;
}

async function listenToKeys(session: LiveSession, job: Job, io: Io): Promise<void> {
  for await (const typed of io.typed) {
    if (typed.trim() === "") continue;
    try {
      session.act(parseKeys(typed, job));
    } catch (error) {
      if (!(error instanceof KeyError)) throw error;
      io.err(`${error.message}\n`);
    }
  }
}

/** The moment at which a walk ends, which may be put off again. */
class Ending {
  readonly reached: Promise<void>;
  #reach: () => void = () => {};
  #timer: NodeJS.Timeout | null = null;

  constructor() {
    this.reached = new Promise((resolve) => {
      this.#reach = resolve;
    });
  }

  now(): void {
    this.notYet();
    this.#reach();
  }

  in(ms: number): void {
    this.#timer ??= setTimeout(() => this.#reach(), ms);
  }

  notYet(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }
}
