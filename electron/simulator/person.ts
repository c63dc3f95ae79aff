import type { Ms } from "../../core/gauge/ms.ts";
import type { StepName } from "../../core/session/event.ts";
import { lifterNames } from "../../core/session/job.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { type Bench, stationKey } from "./bench.ts";
import { Ear, type Target, type Tone } from "./ear.ts";
import { tiltOfExcess } from "./geometry.ts";
import type { Mishap } from "./mishap.ts";
import { type Did, type Plan, PlannedTool } from "./plannedTool.ts";
import { type Contact, type Motion, type Pose, sizeDuring, timeOfTilt } from "./pose.ts";
import type { Random } from "./random.ts";
import { ORDINARY_ROCKING, Rocking, type RockingHabit } from "./rocking.ts";
import { type Sent, Transmitter } from "./transmitter.ts";

/** What comes from the bench: a line of a gauge, or (open loop only) a step that the person chose on screen. */
export type Happening =
  | { readonly tMs: Ms; readonly type: "line"; readonly gauge: string; readonly line: string }
  | { readonly tMs: Ms; readonly type: "step"; readonly step: StepName }
  /** The foot switch: the tool asks a gauge that answers on request. */
  | { readonly tMs: Ms; readonly type: "take" }
  /** The foot switch's other pedals (by ear only). */
  | { readonly tMs: Ms; readonly type: "pedal"; readonly control: Pedal };

/** What a pedal of the foot switch is for. */
export type Pedal = "strike" | "back";

/** How the hands work where an ordinary person would be too slow. */
export interface Hands {
  /** How many times quicker than a practised person they carry, enter and settle; rocking has its own habit. */
  readonly pace: number;
  /** The gauge is taken out after every station instead of being held still in the bore. */
  readonly withdraws: boolean;
}

export interface PersonOptions {
  /** Works by a plan of its own, without a tool to hear. Absent: works by ear. */
  readonly plan?: Plan;
  readonly rocking?: RockingHabit;
  /** How long a lifter takes from one press to the next, ms. Default 1600. */
  readonly lifterMs?: Ms;
  readonly hands?: Hands;
}

/** What the hands do next, and what a data button sends while they do it. */
interface Act {
  readonly motion: Motion;
  readonly press?:
    | { readonly atMs: Ms; readonly kind: "press" | "held" }
    | { readonly atMs: Ms; readonly lifter: string };
  readonly pedal?: Pedal;
}

const AIR: Contact = { at: "air" };

// How long the hands take, ms (our choice, a practised person).
const ENTER_MS = 300;
const SETTLE_MS = 250;
const CARRY_MS = 900;
const SLIDE_MS = 500;
const REST_MS = 1_500;
const IDLE_MS = 200;
const LISTEN_MS = 400;
const CHOOSE_MS = 150;
const LIFTER_MS = 1_600;
/** Between two presses in the air that belong together. */
const TWICE_MS = 500;
/** A press that was heard is answered within so long; the tool may sit on a slow computer. */
const ANSWER_MS = 6_000;
/** Sagitta of a spherical contact of 3 mm radius over a hole of 2 mm: 3 − √(3² − 1²) mm. Derived. */
const OIL_HOLE_NM = 172_000;
/** Hears nothing for so long at one place: takes the gauge out, wipes it and tries again. */
const PATIENCE_PASSES = 30;

/**
 * The person at the bench. `hear` tells what the tool said; `actionsUntil` lets time pass and gives what came of it.
 * Pure: the same seed, tones and times give the same lines. The script is one for both ways of working; open loop a
 * `PlannedTool` says what a real one would.
 */
export class Person {
  readonly #bench: Bench;
  readonly #ear: Ear;
  readonly #planned: PlannedTool | null;
  readonly #random: Random;
  readonly #habit: RockingHabit;
  readonly #lifterMs: Ms;
  readonly #transmitter: Transmitter;
  readonly #acts: Generator<Act, void, void>;
  readonly #streams: boolean;
  readonly #kind: "press" | "held";
  readonly #hands: Hands;
  #working: boolean;
  #pose: Pose = { contact: AIR, tilt: 0 };
  /** End of the motion planned last. */
  #endMs: Ms = 0;
  #act: Act;
  #pressed = false;
  #out: { readonly happening: Happening; readonly order: number }[] = [];
  #order = 0;
  #lastMs: Ms = 0;
  /** What the last press sent, nm with the job's polarity. */
  #lastPressNm: number | null = null;
  #nextSample: { readonly instantMs: Ms; readonly stampMs: Ms };
  #sampleCount = 0;

  constructor(bench: Bench, options: PersonOptions = {}) {
    const { job, boreGauge } = bench;
    const walk = job.walk.flatMap((bore) => job.stations.map((place): Target => ({ bore, place })));
    this.#bench = bench;
    this.#ear = new Ear(walk, job.pressesPerLifter);
    this.#random = bench.fork("person");
    this.#transmitter = new Transmitter(bench);
    this.#habit = options.rocking ?? rhythmFor(bench.readingsPerSecond);
    this.#lifterMs = options.lifterMs ?? LIFTER_MS;
    this.#hands = options.hands ?? { pace: 1, withdraws: false };
    this.#streams = boreGauge.sends === "stream" && boreGauge.request === undefined;
    this.#kind = boreGauge.sends === "held" ? "held" : "press";
    this.#planned = options.plan === undefined ? null : new PlannedTool(job, walk, this.#streams, options.plan);
    this.#working = this.#planned !== null;
    this.#nextSample = this.#drawSample();
    this.#acts = this.#work();
    this.#act = this.#still(0);
    if (this.#planned !== null) for (const tone of this.#planned.start()) this.#hearPlanned(tone);
  }

  /** Tells what the tool said; an open-loop person has no ear for it. */
  hear(outcome: Outcome | Tone): void {
    if (this.#planned === null) this.#ear.hear(outcome);
  }

  /** Lets the person work, or lay the gauge down as soon as the pass in hand is done. */
  run(on: boolean): void {
    this.#working = on;
  }

  /** The plan is worked off, or the tool said that the walk is complete. */
  get done(): boolean {
    return this.#ear.complete;
  }

  /** When something can next happen, ms; nothing will before. */
  nextMs(): Ms {
    const sample = this.#streams ? this.#nextSample.stampMs : Number.POSITIVE_INFINITY;
    const waiting = this.#out.reduce(
      (first, { happening }) => Math.min(first, happening.tMs),
      Number.POSITIVE_INFINITY,
    );
    return Math.min(this.#act.motion.toMs, sample, waiting);
  }

  /** Everything that happens up to `tMs`, oldest first; times never go back, also from one call to the next. */
  actionsUntil(tMs: Ms): Happening[] {
    for (;;) {
      this.#send(tMs);
      if (this.#act.motion.toMs > tMs) break;
      this.#nextAct();
    }
    const due = this.#out.filter(({ happening }) => happening.tMs <= tMs);
    this.#out = this.#out.filter(({ happening }) => happening.tMs > tMs);
    due.sort((one, other) => one.happening.tMs - other.happening.tMs || one.order - other.order);
    return due.map(({ happening }) => {
      this.#lastMs = Math.max(this.#lastMs, happening.tMs);
      return { ...happening, tMs: this.#lastMs };
    });
  }

  /** What a gauge that speaks when asked answers at `tMs`: its line, or null for an unknown gauge. */
  answer(gauge: string, tMs: Ms): string | null {
    const bench = this.#bench;
    if (gauge === bench.boreGauge.id) {
      const { contact } = this.#pose;
      const size =
        contact.at === "air" ? bench.sizeOf(contact, 0, tMs) : bench.sizeOf(contact, this.#nearSquare(contact), tMs);
      return this.#transmitter.bore(size, tMs).line;
    }
    if (gauge !== bench.micrometerGauge?.id) return null;
    const next = this.#nextLifter();
    return next === null ? null : this.#transmitter.lifter(next, tMs);
  }

  // ---- sending ------------------------------------------------------------------------------------------------

  /** Sends what falls into the present motion up to `tMs`; to its end if that is reached. */
  #send(tMs: Ms): void {
    const { motion, press, pedal } = this.#act;
    const ends = motion.toMs <= tMs;
    while (this.#streams && this.#nextSample.instantMs < motion.toMs && (ends || this.#nextSample.stampMs <= tMs)) {
      const { instantMs, stampMs } = this.#nextSample;
      const { line } = this.#transmitter.bore(sizeDuring(motion, instantMs, this.#bench.sizeOf), instantMs);
      this.#push({ tMs: stampMs, type: "line", gauge: this.#bench.boreGauge.id, line });
      this.#nextSample = this.#drawSample();
    }
    if (pedal !== undefined && !this.#pressed && ends) {
      this.#pressed = true;
      this.#push({ tMs: Math.round(motion.toMs), type: "pedal", control: pedal });
    }
    if (press === undefined || this.#pressed || press.atMs > tMs) return;
    this.#pressed = true;
    const stampMs = Math.round(press.atMs + this.#latency());
    if ("lifter" in press) this.#sendLifter(press.lifter, press.atMs, stampMs);
    else this.#sendPress(motion, press.kind, press.atMs, stampMs);
  }

  #sendPress(motion: Motion, kind: "press" | "held", atMs: Ms, stampMs: Ms): void {
    const { boreGauge, sizeOf } = this.#bench;
    const size = kind === "held" ? heldMinimum(motion, sizeOf, this.#random) : sizeDuring(motion, atMs, sizeOf);
    const sent: Sent = this.#transmitter.bore(size, atMs);
    this.#lastPressNm = sent.displayNm === null ? null : sent.displayNm * boreGauge.polarity;
    if (boreGauge.request !== undefined) {
      // By ear the tool asks when its user steps on the switch, and `answer` gives the line.
      if (this.#planned === null) return;
      this.#push({ tMs: stampMs, type: "take" });
    }
    this.#push({ tMs: stampMs, type: "line", gauge: boreGauge.id, line: sent.line });
  }

  #sendLifter(name: string, atMs: Ms, stampMs: Ms): void {
    const gauge = this.#bench.micrometerGauge;
    if (gauge === null || (gauge.request !== undefined && this.#planned === null)) return;
    const line = { tMs: stampMs, type: "line", gauge: gauge.id, line: this.#transmitter.lifter(name, atMs) } as const;
    const take = { tMs: stampMs, type: "take" } as const;
    // A streaming micrometer is read when the switch is stepped on; one that answers is asked by it.
    if (gauge.request !== undefined) this.#push(take);
    this.#push(line);
    if (gauge.request === undefined && gauge.sends === "stream" && this.#planned !== null) this.#push(take);
  }

  #push(happening: Happening): void {
    this.#order += 1;
    this.#out.push({ happening, order: this.#order });
  }

  /** The next reading of the stream: when the gauge takes it, and when it arrives, jittering by 2 ms. */
  #drawSample(): { readonly instantMs: Ms; readonly stampMs: Ms } {
    const instantMs = (this.#sampleCount * 1000) / this.#bench.readingsPerSecond;
    this.#sampleCount += 1;
    return { instantMs, stampMs: Math.round(instantMs + this.#latency()) };
  }

  #latency(): Ms {
    return Math.max(0, 6 + Math.max(-6, Math.min(6, this.#random.normal(2))));
  }

  // ---- moving -------------------------------------------------------------------------------------------------

  #nextAct(): void {
    const next = this.#acts.next();
    this.#pressed = false;
    this.#act = next.done === true ? this.#still(IDLE_MS) : next.value;
  }

  #moveTo(pose: Pose, durationMs: Ms, extra: Pick<Motion, "dirtNm" | "hole"> = {}): Act {
    const motion: Motion = {
      fromMs: this.#endMs,
      toMs: this.#endMs + durationMs,
      from: this.#pose,
      to: pose,
      ...extra,
    };
    this.#endMs = motion.toMs;
    this.#pose = pose;
    return { motion };
  }

  #still(durationMs: Ms): Act {
    return this.#moveTo(this.#pose, durationMs);
  }

  #hearPlanned(tone: Tone): void {
    this.#ear.hear(tone);
    if (tone.type !== "step") return;
    // Chosen a moment after the last line came, or that line would be counted to the new step.
    const tMs = this.#endMs === 0 ? 0 : Math.ceil(this.#endMs) + CHOOSE_MS;
    this.#push({ tMs, type: "step", step: tone.step });
  }

  #tellPlanned(did: Did): void {
    if (this.#planned !== null) for (const tone of this.#planned.after(did)) this.#hearPlanned(tone);
  }

  // ---- the script ---------------------------------------------------------------------------------------------

  *#work(): Generator<Act, void, void> {
    for (;;) {
      if (!this.#working || this.#ear.complete) {
        yield* this.#withdraw();
        yield this.#still(IDLE_MS);
        continue;
      }
      switch (this.#ear.step) {
        case null:
          yield this.#still(IDLE_MS);
          break;
        case "lifters":
          yield* this.#measureLifters();
          break;
        case "zero":
        case "return":
          yield* this.#rockInMicrometer(0, () => this.#ear.referenceGood);
          break;
        case "step-check": {
          const said = this.#bench.boreGauge.unit === "in" ? 25_400 : 20_000;
          yield* this.#rockInMicrometer(said - this.#bench.stepShortNm, () => this.#ear.stepAnswered);
          break;
        }
        case "bores":
          yield* this.#measureBores();
          break;
      }
    }
  }

  /** True as long as nothing calls the person away from the present step. */
  #goesOn(steps: number): boolean {
    return this.#working && this.#ear.steps === steps && !this.#ear.complete;
  }

  #nextLifter(): string | null {
    return lifterNames(this.#bench.job).find((name) => !this.#ear.lifterHeard(name)) ?? null;
  }

  *#measureLifters(): Generator<Act, void, void> {
    const { steps } = this.#ear;
    yield* this.#withdraw();
    while (this.#goesOn(steps)) {
      const name = this.#nextLifter();
      if (name === null || this.#bench.micrometerGauge === null) {
        yield this.#still(IDLE_MS);
        continue;
      }
      for (let press = 0; press < this.#bench.job.pressesPerLifter && this.#goesOn(steps); press += 1) {
        const act = this.#still(this.#lifterMs * this.#random.between(0.8, 1.2));
        yield { ...act, press: { atMs: act.motion.toMs - 300, lifter: name } };
        this.#tellPlanned({ did: "lifter", name });
      }
      // A tool that heard the press has said so within this time; else the button was not pressed well.
      for (let waited = 0; waited < 3_000 && this.#goesOn(steps) && !this.#ear.lifterHeard(name); waited += IDLE_MS) {
        yield this.#still(IDLE_MS);
      }
    }
  }

  *#rockInMicrometer(openedNm: number, good: () => boolean): Generator<Act, void, void> {
    const { steps } = this.#ear;
    while (this.#goesOn(steps)) {
      yield* this.#carryTo(this.#bench.inMicrometer(openedNm, this.#random));
      const rocking = this.#newRocking();
      yield* this.#settle(rocking);
      for (let passes = 0; passes < PATIENCE_PASSES && this.#goesOn(steps) && !good(); passes += 1) {
        yield* this.#pass(rocking);
      }
      // Two more passes cost nothing and make the reference better.
      for (let passes = 0; passes < 2 && good() && this.#goesOn(steps) && this.#planned === null; passes += 1) {
        yield* this.#pass(rocking);
      }
      yield* this.#withdraw();
      yield this.#still(IDLE_MS);
      this.#tellPlanned({ did: "rest" });
      while (good() && this.#goesOn(steps)) yield this.#still(IDLE_MS);
    }
  }

  *#measureBores(): Generator<Act, void, void> {
    const { steps } = this.#ear;
    let rocking: Rocking | null = null;
    while (this.#goesOn(steps)) {
      const target = this.#ear.target();
      if (target === null) {
        yield* this.#withdraw();
        yield this.#still(IDLE_MS);
        continue;
      }
      const mishap = this.#takeMishap(target);
      if (mishap.knockNm !== undefined) {
        this.#bench.bore.zeroSizeNm -= mishap.knockNm;
        this.#tellPlanned({ did: "knock" });
      }
      const { turns } = this.#ear;
      rocking = yield* this.#goTo(target, rocking);
      yield* this.#measure(target, rocking, mishap, steps);
      if (!this.#goesOn(steps)) return;
      if (this.#streams) rocking = yield* this.#leave(target, rocking, steps, turns);
      else rocking = null;
    }
  }

  /** Puts the gauge where it should be; goes on rocking where it never stopped. */
  *#goTo(target: Target, rocking: Rocking | null): Generator<Act, Rocking, void> {
    const bore = this.#boreTaken(target.bore);
    const contact = this.#bench.inBore(bore, target.place, this.#random);
    const now = this.#pose.contact;
    if (now.at === "bore" && now.bore === bore) {
      if (rocking !== null) {
        // Slides on while rocking: one pass takes it from one place to the other.
        const { durationMs, toTilt } = rocking.pass();
        yield this.#moveTo({ contact, tilt: toTilt }, durationMs);
        return rocking;
      }
      const fresh = this.#newRocking();
      yield this.#moveTo({ contact, tilt: fresh.farTilt() }, SLIDE_MS);
      yield this.#still(SETTLE_MS);
      return fresh;
    }
    yield* this.#carryTo(contact);
    const fresh = this.#newRocking();
    yield* this.#settle(fresh);
    return fresh;
  }

  *#measure(target: Target, begun: Rocking, mishap: Mishap, steps: number): Generator<Act, void, void> {
    let rocking = begun;
    let { strikes } = mishap;
    const { turns, answers } = this.#ear;
    const disagreed = this.#ear.troubles.get("no-agreement") ?? 0;
    const stays = () => this.#goesOn(steps) && this.#ear.turns === turns && !this.#ear.isGood(target);
    for (let index = 0; index < PATIENCE_PASSES && stays(); index += 1) {
      yield* this.#passWith(mishap, index, rocking);
      if (strikes !== undefined && this.#ear.answers > answers && this.#goesOn(steps)) {
        yield* this.#strike(strikes);
        strikes = undefined;
        if (!stays()) return;
        rocking = yield* this.#goTo(target, null);
      }
      // Dirt that stayed for long enough is noticed: the next passes are clean.
      const told = (this.#ear.troubles.get("no-agreement") ?? 0) > disagreed;
      if (this.#planned === null && told && mishap.scatteredPasses === undefined) return yield* this.#wipe();
    }
    if (stays()) yield* this.#wipe();
  }

  /** Takes the gauge out and strikes so many times, by a press in the air or the pedal of the foot switch. */
  *#strike(times: 1 | 2): Generator<Act, void, void> {
    yield* this.#withdraw();
    for (let count = 0; count < times; count += 1) {
      const { answers } = this.#ear;
      const act = this.#still(TWICE_MS);
      yield this.#streams
        ? { ...act, pedal: count === 0 ? "strike" : "back" }
        : { ...act, press: { atMs: act.motion.toMs - 50, kind: "press" } };
      // Two that belong together are not waited for in between.
      if (count === times - 1) yield* this.#listen(answers);
    }
  }

  /** Waits until a press made after `answers` was heard, as long as one can be. */
  *#listen(answers: number): Generator<Act, void, void> {
    yield this.#still(LISTEN_MS);
    if (this.#planned !== null) return;
    for (let waited = LISTEN_MS; waited < ANSWER_MS && this.#ear.answers === answers; waited += IDLE_MS) {
      yield this.#still(IDLE_MS);
    }
  }

  *#wipe(): Generator<Act, void, void> {
    yield* this.#withdraw();
    yield this.#still(2_000);
  }

  /** Comes to rest so that the next station opens; gives back the rhythm if the person goes on rocking instead. */
  *#leave(target: Target, rocking: Rocking, steps: number, turns: number): Generator<Act, Rocking | null, void> {
    // Sent elsewhere meanwhile, there is nothing to wait for.
    if (!this.#ear.isGood(target) || this.#ear.turns !== turns) return null;
    const { stations } = this.#bench.job;
    const last = stations.at(-1);
    const leavesBore = last?.height === target.place.height && last.clock === target.place.clock;
    if (!leavesBore && !this.#bench.stopsBetweenStations) {
      this.#tellPlanned({ did: "rest" });
      return this.#ear.turns !== turns ? rocking : null;
    }
    if (leavesBore || this.#hands.withdraws) yield* this.#withdraw();
    else yield this.#still(REST_MS);
    this.#tellPlanned({ did: "rest" });
    const waits = () => this.#goesOn(steps) && this.#ear.turns === turns && this.#ear.isGood(target);
    for (let waited = 0; waited < 3_000 && waits(); waited += IDLE_MS) yield this.#still(IDLE_MS);
    if (waits()) yield* this.#withdraw();
    for (let waited = 0; waited < 5_000 && waits(); waited += IDLE_MS) yield this.#still(IDLE_MS);
    return null;
  }

  // ---- passes -------------------------------------------------------------------------------------------------

  #newRocking(): Rocking {
    return new Rocking(this.#habit, this.#random);
  }

  *#pass(rocking: Rocking, extra: Pick<Motion, "dirtNm"> = {}, good = true): Generator<Act, void, void> {
    if (this.#streams) {
      yield this.#swing(rocking, extra);
      this.#tellPlanned({ did: "pass", good, valueNm: null });
      return;
    }
    // To and fro once to find the place, then the pass that counts.
    yield this.#swing(rocking, {});
    const act = this.#swing(rocking, extra);
    const { motion } = act;
    const square = this.#kind === "held" ? motion.toMs : timeOfTilt(motion, this.#nearSquare(motion.to.contact));
    const atMs = square ?? (motion.fromMs + motion.toMs) / 2;
    this.#lastPressNm = null;
    const { answers } = this.#ear;
    yield { motion, press: { atMs, kind: this.#kind } };
    this.#tellPlanned({ did: "pass", good, valueNm: this.#lastPressNm });
    // Listens for the tone before another press, which might already belong to the next station.
    yield* this.#listen(answers);
  }

  *#passWith(mishap: Mishap, index: number, rocking: Rocking): Generator<Act, void, void> {
    if (index === 0 && mishap.stuck !== undefined) yield* this.#stuck(mishap.stuck, rocking);
    if (index === 1 && mishap.frozenMs !== undefined) {
      this.#transmitter.freezeUntil(this.#endMs + mishap.frozenMs);
      const until = this.#endMs + mishap.frozenMs;
      while (this.#endMs < until) yield this.#swing(rocking, {});
    }
    if (index < (mishap.quickPasses ?? 0)) {
      // Two and a half readings a pass.
      const { toTilt } = rocking.pass();
      yield this.#moveTo({ contact: this.#pose.contact, tilt: toTilt }, 2_500 / this.#bench.readingsPerSecond);
      return;
    }
    if (index >= 1 && index <= (mishap.holePasses ?? 0)) {
      const act = this.#swing(rocking, {});
      const { fromMs, toMs } = act.motion;
      const middle = (fromMs + toMs) / 2;
      const half = Math.max(75, 1_000 / this.#bench.readingsPerSecond);
      yield { motion: { ...act.motion, hole: { nm: OIL_HOLE_NM, fromMs: middle - half, toMs: middle + half } } };
      return;
    }
    if (index < (mishap.scatteredPasses ?? 0)) {
      // Never twice the same, so that no run of them agrees by chance.
      const dirtNm = (index % 2 === 0 ? 1 : -1) * this.#random.between(6_000, 12_000);
      yield* this.#pass(rocking, { dirtNm }, false);
      return;
    }
    if (mishap.dirtyPass?.index === index) {
      yield* this.#pass(rocking, { dirtNm: mishap.dirtyPass.nm }, false);
      return;
    }
    yield* this.#pass(rocking);
  }

  *#stuck(stuck: { readonly ms: number; readonly presses: number }, rocking: Rocking): Generator<Act, void, void> {
    this.#transmitter.stick(true);
    if (this.#streams) {
      const until = this.#endMs + stuck.ms;
      while (this.#endMs < until) yield this.#swing(rocking, {});
    } else {
      for (let press = 0; press < stuck.presses; press += 1) {
        const act = this.#swing(rocking, {});
        yield { ...act, press: { atMs: act.motion.toMs, kind: "press" } };
        yield this.#still(LISTEN_MS);
      }
    }
    this.#transmitter.stick(false);
  }

  #swing(rocking: Rocking, extra: Pick<Motion, "dirtNm">): Act {
    const { durationMs, toTilt } = rocking.pass();
    return this.#moveTo({ contact: this.#pose.contact, tilt: toTilt }, durationMs, extra);
  }

  /** How far from square (radians, signed) the button is pressed: up to about a micrometre long (our choice). */
  #nearSquare(contact: Contact): number {
    if (contact.at === "air") return 0;
    const size = this.#bench.sizeOf(contact, 0, this.#endMs);
    const tilt = tiltOfExcess(size, this.#bench.contactRadiusNm, 300);
    return Math.max(-2 * tilt, Math.min(2 * tilt, this.#random.normal(tilt)));
  }

  // ---- places -------------------------------------------------------------------------------------------------

  *#withdraw(): Generator<Act, void, void> {
    if (this.#pose.contact.at === "air") return;
    yield this.#moveTo({ contact: AIR, tilt: 0 }, ENTER_MS / this.#hands.pace);
  }

  *#carryTo(contact: Contact): Generator<Act, void, void> {
    yield* this.#withdraw();
    yield this.#still(CARRY_MS / this.#hands.pace);
    // Goes in cocked, as a gauge does, well beyond the tilt it will be rocked to.
    yield this.#moveTo({ contact, tilt: this.#habit.highDegrees * (Math.PI / 180) * 1.3 }, ENTER_MS / this.#hands.pace);
  }

  *#settle(rocking: Rocking): Generator<Act, void, void> {
    // From the cocked side: the first pass comes down from there.
    const tilt = rocking.farTilt();
    const { contact } = this.#pose;
    this.#pose = { contact, tilt: Math.sign(tilt) * Math.abs(this.#pose.tilt) };
    yield this.#moveTo({ contact, tilt }, SETTLE_MS / this.#hands.pace);
    yield this.#still(100 / this.#hands.pace);
  }

  /** The bore the person puts the gauge in when this one is meant; a mistake lasts until the tool points at it. */
  #boreTaken(bore: string): string {
    if ((this.#ear.troubles.get("same-bore") ?? 0) > 0) this.#bench.mistaken.clear();
    return this.#bench.mistaken.get(bore) ?? bore;
  }

  #takeMishap(target: Target): Mishap {
    const key = stationKey(target.bore, target.place);
    const mishap = this.#bench.mishaps.get(key) ?? {};
    this.#bench.mishaps.delete(key);
    return mishap;
  }
}

/** Rocks as slowly as a display of this rate needs: seven readings a pass, where an ordinary rhythm is too quick. */
export function rhythmFor(readingsPerSecond: number): RockingHabit {
  const highHz = Math.min(ORDINARY_ROCKING.highHz, readingsPerSecond / 14);
  return { ...ORDINARY_ROCKING, highHz, lowHz: Math.min(0.65, highHz * 0.8), lowDegrees: 3.5, highDegrees: 8 };
}

/** Smallest size that a gauge with a hold function sees of a pass at its own fast rate, 100 a second. */
function heldMinimum(motion: Motion, sizeOf: Bench["sizeOf"], random: Random): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (let tMs = motion.fromMs + random.between(0, 10); tMs < motion.toMs; tMs += 10) {
    smallest = Math.min(smallest, sizeDuring(motion, tMs, sizeOf));
  }
  return smallest;
}
