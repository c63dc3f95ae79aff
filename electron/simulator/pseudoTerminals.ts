import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { StationPlace } from "../../core/block/layout.ts";
import type { Job } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { Bench, stationKey } from "./bench.ts";
import { applyBlunders } from "./blunders.ts";
import type { Tone } from "./ear.ts";
import { LiveBench } from "./liveBench.ts";
import type { Mishap } from "./mishap.ts";
import { openLoopPlan } from "./openLoopPlan.ts";
import type { Hands, Pedal } from "./person.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";
import type { RockingHabit } from "./rocking.ts";
import { type Truth, truthOf } from "./truth.ts";

export interface PseudoTerminalOptions {
  readonly job: Job;
  readonly seed: number;
  readonly readingsPerSecond?: number;
  /** Share of the errors that no rocking shows; see `Bench`. */
  readonly errorShare?: number;
  readonly blunders?: readonly string[];
  /** What else goes wrong, at single stations. */
  readonly mishaps?: readonly { readonly bore: string; readonly place: StationPlace; readonly mishap: Mishap }[];
  readonly rocking?: RockingHabit;
  readonly hands?: Hands;
  /** How much faster than real time the person works. Default 1. */
  readonly speed?: number;
  /** The person listens to a tool and must be told what it says; otherwise works by a plan. */
  readonly byEar: boolean;
  /** With a plan: whether it has a step check. */
  readonly stepCheck: boolean;
  /** The plan is worked off, or the tool said that the walk is complete; comes once. */
  readonly onDone?: () => void;
}

/** Simulated gauges on pseudo-terminals, and the person who works with them. */
export interface PseudoTerminalBench {
  /** By gauge id: the path to open. */
  readonly paths: ReadonlyMap<string, string>;
  /** The foot switch's path. It sends one line a pedal. */
  readonly switchPath: string;
  readonly truth: Truth;
  hear(outcome: Outcome | Tone): void;
  /** Steps on a pedal of the foot switch. */
  tread(pedal: Pedal): void;
  /** Pulls a gauge's cable: its device vanishes. @throws RangeError for an unknown gauge. */
  pull(gauge: string): Promise<void>;
  /** Puts the cable back: a device at the same path. @throws RangeError for an unknown gauge. */
  putBack(gauge: string): Promise<void>;
  /** Ends it all and removes every device and process. */
  close(): Promise<void>;
}

/** What the pedals of the simulated foot switch send. */
const SWITCH_LINES: Readonly<Record<Pedal, string>> = { strike: "P2", back: "P3" };

/** So long after every gauge is listened to the person begins, so that no first line is missed, ms. */
const BEGIN_MS = 1_500;
const LOOK_MS = 100;

/**
 * Puts a bench on pseudo-terminals. By ear the person starts at once; by a plan, when every gauge is listened to.
 * @throws PseudoTerminalError when there is no socat.
 * @throws BlunderError for a blunder that is unknown or cannot happen in this job.
 * @throws RangeError for a rate that no gauge or clock has.
 */
export async function openPseudoTerminals(options: PseudoTerminalOptions): Promise<PseudoTerminalBench> {
  const { job, seed, readingsPerSecond, errorShare, blunders = [], speed, byEar, stepCheck, onDone } = options;
  const { mishaps = [], rocking, hands } = options;
  const bench = new Bench(job, {
    seed,
    ...(readingsPerSecond === undefined ? {} : { readingsPerSecond }),
    ...(errorShare === undefined ? {} : { errorShare }),
  });
  applyBlunders(bench, blunders);
  for (const { bore, place, mishap } of mishaps) bench.mishaps.set(stationKey(bore, place), mishap);
  const truth = truthOf(bench, blunders);
  const folder = await mkdtemp(join(tmpdir(), "borewright-bench-"));
  let live: LiveBench | null = null;
  let waiting: NodeJS.Timeout | null = null;
  const terminals = new Map(
    job.gauges.map(({ id, serial }) => [
      id,
      new PseudoTerminal(join(folder, id), (text) => live?.ask(id, text), serial?.framing),
    ]),
  );
  const footSwitch = new PseudoTerminal(join(folder, "foot-switch"), () => {});
  const tread = (pedal: Pedal) => footSwitch.send(`${SWITCH_LINES[pedal]}\r`);
  const close = async () => {
    if (waiting !== null) clearTimeout(waiting);
    live?.close();
    await Promise.all([...terminals.values(), footSwitch].map((terminal) => terminal.close()));
    await rm(folder, { recursive: true, force: true });
  };
  const begin = () => {
    live = new LiveBench(bench, {
      ...(byEar ? {} : { plan: openLoopPlan(job, blunders, stepCheck) }),
      ...(speed === undefined ? {} : { rate: speed }),
      ...(onDone === undefined ? {} : { onDone }),
      ...(rocking === undefined ? {} : { rocking }),
      ...(hands === undefined ? {} : { hands }),
      onLine: (gauge, text) => terminals.get(gauge)?.send(text),
      onPedal: tread,
    });
    if (byEar) live.run(true);
  };
  const waitForListeners = () => {
    const all = [...terminals.values()].every((terminal) => terminal.listened);
    waiting = all ? setTimeout(begin, BEGIN_MS) : setTimeout(waitForListeners, LOOK_MS);
  };
  const named = (gauge: string): PseudoTerminal => {
    const terminal = terminals.get(gauge);
    if (terminal === undefined) {
      throw new RangeError(`found gauge "${gauge}"; expected one of ${[...terminals.keys()].join(", ")}`);
    }
    return terminal;
  };
  try {
    // Only one who works by ear has reason to strike.
    const plugged = byEar ? [...terminals.values(), footSwitch] : [...terminals.values()];
    await Promise.all(plugged.map((terminal) => terminal.plugIn()));
  } catch (error) {
    await close();
    throw error;
  }
  if (byEar) begin();
  else waitForListeners();
  return {
    paths: new Map([...terminals].map(([id, { path }]) => [id, path])),
    switchPath: footSwitch.path,
    truth,
    hear: (outcome) => live?.hear(outcome),
    tread,
    pull: (gauge) => named(gauge).pull(),
    putBack: (gauge) => named(gauge).plugIn(),
    close,
  };
}
