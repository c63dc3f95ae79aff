import fc from "fast-check";
import type { SessionInput } from "../../core/session/event.ts";
import { Recording } from "../../core/session/recording.ts";
import { canonical } from "../../core/session/seal.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { asLine, jobFile } from "../session/bench.ts";

const AGREEMENT_NM = 2_500;
const SWEEPS = 3;

/** What an operator, a gauge or time does. Presses, and what a rocked gauge turns at, are in µm. */
type Action =
  | { readonly does: "rock"; readonly um: number; readonly passes: number; readonly lifted: boolean }
  | { readonly does: "press"; readonly um: number }
  | { readonly does: "air" | "garbage" | "strike" | "back" | "take" | "silence" | "resume" | "note" }
  | { readonly does: "hold"; readonly on: boolean }
  | { readonly does: "go"; readonly bore: string; readonly height: string | null }
  | { readonly does: "step"; readonly step: "lifters" | "zero" | "step-check" | "bores" | "return" }
  | { readonly does: "link"; readonly link: "open" | "lost" | "closed" }
  | { readonly does: "correct"; readonly polarity: "+" | "-" }
  | { readonly does: "mic"; readonly um: number };

/** One sweep of a station as the test sees it. */
interface SeenSweep {
  readonly tMs: number;
  readonly rawMinNm: number;
  readonly struck: boolean;
  readonly kept: boolean;
  readonly nm: number;
}
interface SeenStation {
  readonly name: string;
  readonly bore: string;
  readonly height: string;
  readonly closedMs: number | null;
  readonly valueNm: number | null;
  readonly sweeps: readonly SeenSweep[];
}

/** A session being walked, and what the test itself remembers of it: the model is the record of what was told. */
class Walk {
  readonly recording: Recording;
  readonly inputs: SessionInput[] = [];
  readonly sends: "press" | "held" | "stream";
  text: string;
  t = 0;

  constructor(sends: "press" | "held" | "stream", returnCheckEvery: number) {
    const gauges = (jobFile().gauges as Record<string, unknown>[]).map((gauge) =>
      gauge.role === "bore" ? { ...gauge, sends } : gauge,
    );
    const job = jobFile({
      walk: ["1E", "1I"],
      returnCheckEvery,
      gauges,
      agreement: "2.5 um",
      sweepsPerStation: SWEEPS,
    });
    this.sends = sends;
    this.recording = Recording.begin({ job, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0", hash: sha256 });
    this.text = this.recording.headerText;
  }

  feed(input: Record<string, unknown>, afterMs: number): void {
    this.t += afterMs;
    const event = { t: this.t, ...input } as unknown as SessionInput;
    this.inputs.push(event);
    this.text += this.recording.record(event).text;
  }

  stations(): SeenStation[] {
    return this.recording.run.stations.all.map(({ bore, place, collector }) => ({
      name: `${bore} ${place.height}`,
      bore,
      height: place.height,
      closedMs: collector.closedMs,
      valueNm: collector.valueNm,
      sweeps: collector.sweeps.map(({ tMs, rawMinNm, turningPointNm, use }) => ({
        tMs,
        rawMinNm,
        struck: use === "struck",
        kept: use === "kept",
        nm: turningPointNm,
      })),
    }));
  }
}

function law(holds: boolean, what: string): void {
  if (!holds) throw new Error(what);
}

const standing = ({ sweeps }: SeenStation) => sweeps.filter(({ struck }) => !struck);

/** The station that was closed last: what a strike takes back where none is open with a sweep. */
function lastClosed(stations: readonly SeenStation[]): SeenStation | null {
  const closed = stations.filter(({ closedMs }) => closedMs !== null);
  return closed.sort((one, other) => (other.closedMs ?? 0) - (one.closedMs ?? 0))[0] ?? null;
}

/** At how many stations an action may add a sweep. In a stream what ends a pass adds the pass that it ends. */
function mayAdd({ sends }: Walk, { does }: Action): number {
  if (does === "press") return 1;
  if (does === "rock") return 2;
  return sends === "stream" && ENDS_A_PASS.has(does) ? 1 : 0;
}
const ENDS_A_PASS: ReadonlySet<string> = new Set(["air", "take", "silence", "link", "step", "hold", "go", "garbage"]);

/** What one action may have done to the sweeps of the stations, and no more. */
function judgeChange(walk: Walk, action: Action, before: readonly SeenStation[], after: readonly SeenStation[]): void {
  const added: string[] = [];
  const struck = new Map<string, number[]>();
  for (const [index, was] of before.entries()) {
    const is = after[index] as SeenStation;
    for (const [at, sweep] of was.sweeps.entries()) {
      const now = is.sweeps[at];
      law(now !== undefined && now.tMs === sweep.tMs && now.rawMinNm === sweep.rawMinNm, `${was.name} lost a sweep`);
      law(!(sweep.struck && now?.struck === false), `a struck sweep of ${was.name} came back`);
      if (!sweep.struck && now?.struck === true) struck.set(was.name, [...(struck.get(was.name) ?? []), at]);
    }
    const most = action.does === "rock" ? action.passes + 1 : 1;
    law(is.sweeps.length - was.sweeps.length <= most, `more than ${most} sweeps at ${is.name} by ${action.does}`);
    if (is.sweeps.length > was.sweeps.length) added.push(is.name);
  }
  law(added.length <= mayAdd(walk, action), `${action.does} made a sweep at ${added.join()}`);

  const here = walk.recording.run.view().here;
  const opened = here === null ? null : `${here.bore} ${here.place.height}`;
  const all = (name: string, indexes: readonly number[]) => {
    const was = before.find((station) => station.name === name);
    return was !== undefined && standing(was).length === indexes.length;
  };
  for (const [name, indexes] of struck) {
    const was = before.find((station) => station.name === name) as SeenStation;
    const lastOne = indexes.length === 1 && was.sweeps.findLastIndex((sweep) => !sweep.struck) === indexes[0];
    // With the polarity turned round a short press is one in the air.
    switch (action.does === "press" && added.length === 0 ? "air" : action.does) {
      case "strike":
      case "air":
      case "back": {
        const again = action.does !== "strike" && struck.size > 1;
        law(struck.size <= (again ? 2 : 1), `${action.does} struck at ${[...struck.keys()].join()}`);
        const wasLast = lastClosed(before)?.name === name && all(name, indexes);
        const wasOpen = was.closedMs === null && (lastOne || all(name, indexes));
        law(wasLast || wasOpen, `${action.does} struck ${indexes.length} of ${standing(was).length} at ${name}`);
        break;
      }
      case "go":
        law(action.does === "go" && action.bore === was.bore && all(name, indexes), `a jump struck at ${name}`);
        break;
      case "press":
      case "rock":
      case "step":
        // A station whose zero has moved is measured anew, from its first sweep on; a rocked gauge may finish it as well.
        law(name === opened || action.does === "rock", `${action.does} struck at ${name}, which is not open`);
        law(all(name, indexes) && was.closedMs !== null, `${action.does} struck at ${name}`);
        break;
      case "correct":
        law(all(name, indexes), `a correction struck a part of ${name}`);
        break;
      default:
        law(false, `${action.does} struck at ${name}`);
    }
  }
}

/** What holds of a session at any time. */
function judgeState(walk: Walk): void {
  const stations = walk.stations();
  const lines = walk.inputs.filter((input) => input.type === "line" && input.gauge === "bore").length;
  const sweeps = stations.reduce((sum, station) => sum + station.sweeps.length, 0);
  law(sweeps <= lines, `${sweeps} sweeps of ${lines} lines`);
  for (const { name, closedMs, valueNm, sweeps: own } of stations) {
    const kept = own.filter((sweep) => sweep.kept);
    if (closedMs === null) continue;
    law(kept.length >= SWEEPS, `${name} is closed on ${kept.length} sweeps`);
    const agreed = kept.filter(({ tMs }) => tMs <= closedMs).slice(-SWEEPS);
    const values = agreed.map(({ nm }) => nm);
    law(Math.max(...values) - Math.min(...values) <= AGREEMENT_NM, `${name} is closed on sweeps that do not agree`);
    law(
      // A pass of a stream is known by the readings after it.
      own.some(({ tMs }) => (walk.sends === "stream" ? tMs < closedMs : tMs === closedMs)),
      `${name} is closed when nothing was measured`,
    );
    law(
      valueNm !== null && kept.some(({ nm }) => Math.abs(nm - valueNm) <= AGREEMENT_NM),
      `${name}: no sweep has its value`,
    );
  }
  judgeComplete(walk, stations);
}

/** Complete only if every station is closed and, where checks are asked for, a return check after the last one held. */
function judgeComplete(walk: Walk, stations: readonly SeenStation[]): void {
  const { run, job } = walk.recording;
  const times = stations.map(({ closedMs }) => closedMs);
  const last = Math.max(...times.map((time) => time ?? Number.POSITIVE_INFINITY));
  const checks = run.references.filter(({ kind, tMs }) => kind === "return" && tMs >= last);
  const checked = job.returnCheckEvery === 0 || checks.some(({ held }) => held);
  if (run.complete) law(Number.isFinite(last) && checked, "complete, but not measured and checked");
  const [zero, ...others] = run.references;
  const plain = zero !== undefined && others.every(({ kind, held }) => kind === "return" && held);
  const untouched = Number.isFinite(last) && checked && plain && times.every((time) => (time ?? 0) >= (zero?.tMs ?? 0));
  if (untouched) law(run.complete, "measured and checked, but not complete");
}

/** The file written so far, and any beginning of it, read again. */
function judgeFile(walk: Walk, cut: number): void {
  const read = Recording.read(walk.text, { hash: sha256 });
  law(read.broken.length === 0 && read.torn === null, `the file is broken: ${read.broken[0]?.why}`);
  law(read.differences.length === 0, `read otherwise than walked: ${read.differences[0]}`);
  law(JSON.stringify(read.recording.view()) === JSON.stringify(walk.recording.view()), "replayed to another state");
  law(canonical(read.inputs) === canonical(walk.inputs), "other events than were told");
  const lines = walk.text.split("\n");
  const short = Recording.read(`${lines.slice(0, 1 + (cut % lines.length)).join("\n")}\n`, { hash: sha256 });
  law(
    short.broken.length === 0 && short.differences.length === 0,
    `a beginning of ${cut % lines.length} records is broken`,
  );
  law(
    short.inputs.every((input, index) => canonical(input) === canonical(walk.inputs[index] as object)),
    "a beginning holds other events",
  );
}

class Act implements fc.Command<{ actions: number }, Walk> {
  readonly action: Action;
  readonly afterMs: number;
  constructor(action: Action, afterMs: number) {
    this.action = action;
    this.afterMs = afterMs;
  }
  check(): boolean {
    return true;
  }
  toString(): string {
    return `+${this.afterMs} ${JSON.stringify(this.action)}`;
  }
  run(model: { actions: number }, walk: Walk): void {
    model.actions += 1;
    const before = walk.stations();
    if (this.action.does === "rock") rock(walk, this.action, this.afterMs);
    else walk.feed(inputOf(this.action), this.afterMs);
    judgeChange(walk, this.action, before, walk.stations());
    judgeState(walk);
  }
}

/** Lines of a gauge rocked in a bore, to be sent every 50 ms: a pass a second, 60 µm more at the turns of the hand. */
export function rockedLines(um: number, passes: number): string[] {
  return Array.from({ length: passes * 20 }, (_, reading) => {
    const tilt = Math.cos((Math.PI * (reading + 0.37)) / 20);
    return asLine(um + 60 * tilt * tilt);
  });
}

/** Rocks the gauge, and perhaps takes it out then. */
function rock(
  walk: Walk,
  { um, passes, lifted }: { um: number; passes: number; lifted: boolean },
  afterMs: number,
): void {
  const lines = [...rockedLines(um, passes), ...(lifted ? Array<string>(10).fill(asLine(900)) : [])];
  for (const [index, line] of lines.entries()) {
    walk.feed({ type: "line", gauge: "bore", line }, index === 0 ? Math.max(afterMs, 50) : 50);
  }
}

/** The event that an action is. */
function inputOf(action: Action): Record<string, unknown> {
  const line = (text: string, gauge = "bore") => ({ type: "line", gauge, line: text });
  switch (action.does) {
    case "press":
      return line(asLine(action.um));
    case "air":
      return line(asLine(900));
    case "garbage":
      return line("+0.0␀41");
    case "mic":
      return line(asLine(21_400 + action.um), "mic");
    case "resume":
      return { type: "resumed", app: "test 0" };
    case "note":
      return { type: "note", text: "words" };
    case "hold":
      return { type: "hold", on: action.on };
    case "go": {
      const { bore, height } = action;
      return { type: "go", bore, ...(height === null ? {} : { station: { height, clock: "axial" } }) };
    }
    case "step":
      return { type: "step", step: action.step };
    case "link":
      return { type: "link", gauge: "bore", link: action.link };
    case "correct":
      return { type: "correct", gauge: "bore", polarity: action.polarity };
    default:
      return { type: action.does };
  }
}

const times = fc.oneof(
  { weight: 8, arbitrary: fc.constantFrom(300, 700, 2_500) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1, 31 * 60_000) },
);
const act = (actions: fc.Arbitrary<Action>) =>
  fc.tuple(actions, times).map(([action, afterMs]): fc.Command<{ actions: number }, Walk> => new Act(action, afterMs));
const plain = (...does: ("air" | "garbage" | "strike" | "back" | "take" | "silence" | "resume" | "note")[]) =>
  act(fc.constantFrom(...does).map((one): Action => ({ does: one })));
const presses = act(
  fc
    .oneof(
      { weight: 6, arbitrary: fc.constantFrom(0, 1, 40, 41) },
      { weight: 1, arbitrary: fc.constantFrom(9, 38, 44, 60, -400) },
    )
    .map((um): Action => ({ does: "press", um })),
);
const steps = act(
  fc
    .constantFrom("zero", "zero", "bores", "bores", "bores", "return", "return", "step-check", "lifters")
    .map((step): Action => ({ does: "step", step: step as "zero" })),
);

const rocked = act(
  fc
    .record({
      um: fc.constantFrom(0, 40, 40, 40, 40, 41, 60, -400),
      passes: fc.constantFrom(1, 3, 4, 4, 5),
      lifted: fc.boolean(),
    })
    .map((one): Action => ({ does: "rock", ...one })),
);

/** What is done beside measuring. */
const beside = [
  steps,
  plain("strike", "air", "air", "back"),
  plain("take", "silence", "resume", "note", "garbage"),
  act(fc.boolean().map((on): Action => ({ does: "hold", on }))),
  act(
    fc
      .tuple(fc.constantFrom("1E", "1I"), fc.constantFrom("upper", "lower", null))
      .map(([bore, height]): Action => ({ does: "go", bore, height })),
  ),
  act(fc.constantFrom("open", "lost", "closed").map((link): Action => ({ does: "link", link: link as "open" }))),
  act(fc.constantFrom("+", "+", "-").map((polarity): Action => ({ does: "correct", polarity: polarity as "+" }))),
  act(fc.constantFrom(0, 1, 400).map((um): Action => ({ does: "mic", um }))),
];
const walksWith = <Sends extends "press" | "held" | "stream">(
  sends: readonly Sends[],
  measuring: typeof beside,
  maxCommands: number,
) =>
  fc.record({
    sends: fc.constantFrom(...sends),
    returnCheckEvery: fc.constantFrom(0, 1, 2),
    cut: fc.nat(1_000_000),
    actions: fc.commands([...measuring, ...beside], { maxCommands, size: "+1" }),
    /** Begun with a zero, as nearly every walk is. */
    zeroed: fc.boolean(),
  });

/** Actions in any order, more of those that a walk is made of, with a gauge that sends at a press. */
export const walks = walksWith(["press", "held"], [presses, presses, presses, presses, presses], 60);
/** The same with a gauge that sends all the time: rocked, in the air, still. */
export const streamWalks = walksWith(["stream"], Array<typeof rocked>(12).fill(rocked), 30);

type Walked = typeof walks extends fc.Arbitrary<infer T> ? T : never;
type StreamWalked = typeof streamWalks extends fc.Arbitrary<infer T> ? T : never;

/** Walks by these actions, holds every law after each, and says how many stations are closed in the end. @throws Error that says which one was broken. */
export function walkBy({ sends, returnCheckEvery, cut, actions, zeroed }: Walked | StreamWalked): number {
  const walk = new Walk(sends, returnCheckEvery);
  if (zeroed) {
    walk.feed({ type: "step", step: "zero" }, 0);
    if (sends === "stream") rock(walk, { um: 0, passes: 5, lifted: true }, 500);
    else for (const um of [0, 0, 0]) walk.feed({ type: "line", gauge: "bore", line: asLine(um) }, 500);
    walk.feed({ type: "step", step: "bores" }, 500);
  }
  fc.modelRun(() => ({ model: { actions: 0 }, real: walk }), actions);
  judgeFile(walk, cut);
  return walk.stations().filter(({ closedMs }) => closedMs !== null).length;
}
