import type { FitInput } from "../fit/finding.ts";
import type { LifterFit } from "../fit/lifterFits.ts";
import { toNm } from "../length/nm.ts";
import { type LifterRules, mustGoTo } from "../pairing/lifterRule.ts";
import { type PairingPool, pairingPool, presentLifter } from "../pairing/pairingPool.ts";
import { doubledDeviation, doubledTarget } from "../pairing/pairingTarget.ts";
import { type OrderWorth, orderWorth, pairLifters } from "../pairing/pairLifters.ts";
import { type Job, type LifterNote, lifterNames } from "../session/job.ts";
import { lifterNotesOf } from "../session/lifterNotes.ts";
import type { NoticeCode } from "../session/notice.ts";
import type { Recording } from "../session/recording.ts";
import type { Pairing } from "./pairingSchema.ts";

/** What a pairing may rest on instead of the session's own. */
export interface PairingWish {
  /** Stand in for the job's notes, lifter by lifter. */
  readonly notes?: Readonly<Record<string, LifterNote>>;
  /** What the session measured, altered for a look at "what if". */
  readonly input?: FitInput;
}

/** One bore of an order. */
interface Seat {
  readonly bore: string;
  readonly lifter: string;
  readonly fit: LifterFit;
}

/**
 * Which lifter goes into which bore, beside the order they are in now: that of an accepted pairing, or each in the bore
 * it was measured for. Lengths in nm at 20 °C; a deviation is positive where the clearance is larger than the target.
 * @throws PairingError when there is none: what is missing, or which rules clash.
 * @throws JobError for notes that make no sense.
 */
export function pairSession(recording: Recording, wish: PairingWish = {}): Pairing {
  const { job, run, simulated } = recording;
  const input = wish.input ?? run.fitInput();
  const { limits } = input;
  const rules = wish.notes === undefined ? job.lifters : lifterNotesOf({ ...job.lifters, ...wish.notes }, job.layout);
  const walk = input.bores.flatMap((name) => job.layout.bores.find((bore) => bore.name === name) ?? []);
  const spares = lifterNames({ walk: [], lifters: rules });
  const pool = pairingPool(input, walk, spares, rules);
  const { style } = job.lifter;
  const fitOf = remembered(pool);
  const choices = pairLifters({ bores: pool.bores, lifters: pool.lifters, rules, style, limits, fitOf });
  const now = pool.bores.map(({ name }): Seat => {
    const lifter = presentLifter(input, name);
    return { bore: name, lifter, fit: fitOf(name, lifter) };
  });
  const then = choices.flatMap(({ bore, lifter, way }): Seat[] =>
    lifter === null ? [] : [{ bore, lifter, fit: way }],
  );
  const before = orderWorth(now, limits);
  const after = orderWorth(then, limits);
  const placed = new Set(then.map(({ lifter }) => lifter));
  return {
    format: "borewright/pairing",
    version: 1,
    assignments: then.map(({ bore, lifter, fit }, index) => {
      const why = whyHeld(bore, lifter, rules, style);
      return {
        bore,
        lifter,
        moves: lifter !== bore,
        ...shown(fit),
        deviationNm: toNm(doubledDeviation(fit, limits) / 2),
        confidence: fit.confidence,
        ...(why === null ? {} : { why }),
        ...(choices[index]?.turned === true ? { turned: true } : {}),
        before: { lifter: (now[index] as Seat).lifter, ...shown((now[index] as Seat).fit) },
      };
    }),
    before: worthShown(before),
    after: worthShown(after),
    leftOver: [...pool.bores.map(({ name }) => name), ...spares].filter(
      (lifter) => input.lifters.has(lifter) && !placed.has(lifter),
    ),
    leftOut: [...pool.leftOut],
    targetNm: toNm(doubledTarget(limits) / 2),
    rule: input.rule,
    notes: [...recordNotes(recording, simulated), ...notesOf({ pool, rules, now, then, before, after, limits, style })],
  };
}

/** How good a bore would be is asked for again and again; it is worked out once. */
function remembered({ fits }: PairingPool): (bore: string, lifter: string) => LifterFit {
  const known = new Map<string, LifterFit>();
  return (bore, lifter) => {
    const key = `${bore} ${lifter}`;
    const found = known.get(key) ?? fits.of(bore, lifter);
    known.set(key, found);
    return found;
  };
}

function shown({ clearanceMinNm, clearanceMaxNm, verdict, preferred }: LifterFit) {
  return { clearanceMinNm: clearanceMinNm as number, clearanceMaxNm: clearanceMaxNm as number, verdict, preferred };
}

function worthShown(worth: OrderWorth): Pairing["before"] {
  return {
    fits: worth.fits,
    preferred: worth.preferred,
    worstDeviationNm: toNm(worth.doubledWorst / 2),
    sumSquaresNm2: Math.round(worth.fourfoldSquares / 4),
    moved: worth.moved,
  };
}

/** The rule that holds a lifter in a bore, its own or that of the other end of its tie bar; null when none does. */
function whyHeld(bore: string, lifter: string, rules: LifterRules, style: Job["lifter"]["style"]): string | null {
  const [own] = mustGoTo(lifter, rules, style);
  if (own !== undefined && own.bore === bore) return own.why;
  const partner = rules[lifter]?.pairedWith;
  const [other] = partner === undefined ? [] : mustGoTo(partner, rules, style);
  return other === undefined ? null : `hangs on one tie bar with ${partner}, which ${other.why}`;
}

/** Notices that put a size in doubt while they stand; the others are about how the work goes on. */
const DOUBTS: ReadonlySet<NoticeCode> = new Set([
  "polarity-reversed",
  "unit-mismatch",
  "zero-moved",
  "odd-lifter",
  "odd-bore",
  "turn-out",
  "same-bore",
  "step-failed",
  "temperature",
]);

/** What a reader must know of the record that the pairing rests on, as sentences. */
function recordNotes({ run }: Recording, simulated: boolean): string[] {
  const notes: string[] = [];
  if (simulated) notes.push("Simulated gauges: nothing was measured, and this proves nothing about a block.");
  const open = run.notices.filter(({ code, curedMs }) => curedMs === undefined && DOUBTS.has(code));
  if (open.length > 0) {
    const codes = [...new Set(open.map(({ code, bore }) => (bore === undefined ? code : `${code} (${bore})`)))];
    notes.push(`What was measured is in doubt: ${codes.join(", ")}. Settle that before a lifter is moved.`);
  }
  if (!run.complete) notes.push("The walk is not complete: this order may change with what is still to be measured.");
  return notes;
}

/** What a reader must know of the pairing, as sentences. */
function notesOf(about: {
  readonly pool: PairingPool;
  readonly rules: LifterRules;
  readonly now: readonly Seat[];
  readonly then: readonly Seat[];
  readonly before: OrderWorth;
  readonly after: OrderWorth;
  readonly limits: FitInput["limits"];
  readonly style: Job["lifter"]["style"];
}): string[] {
  const { pool, rules, now, then, before, after, style } = about;
  const notes: string[] = [];
  const changed = then.filter(({ lifter }, index) => lifter !== now[index]?.lifter);
  if (changed.length === 0) {
    notes.push("The lifters are in the best order there is under the rules: nothing moves.");
  } else if (before.fits === after.fits && before.preferred === after.preferred && !canTell(now, then, before, after)) {
    notes.push(
      "The same number of bores fits as in the present order, and the rest of the gain is smaller than the gauge can tell: leaving the lifters where they are is as good.",
    );
  }
  const broken = now.filter(({ bore, lifter }) => isAgainst(bore, lifter, rules, style)).map(({ bore }) => bore);
  if (broken.length > 0)
    notes.push(`The present order does not keep the rules for the lifters, in ${names("bore", broken)}.`);
  const open = then.filter(({ fit }) => fit.verdict !== "fits").map(({ bore }) => bore);
  if (open.length > 0) {
    notes.push(
      `No order brings more bores inside the limits; ${names("bore", open)} ${open.length === 1 ? "needs" : "need"} another remedy, or a surer measurement where undecided.`,
    );
  }
  if (changed.length > 0) {
    notes.push(
      "Clearances in this order are computed from bores and lifters measured apart, and the micrometer counts twice for every lifter but the one the gauge was zeroed on. Check with the gauge what moves.",
    );
  }
  if (pool.lifters.some((lifter) => rules[lifter]?.pairedWith !== undefined)) {
    notes.push(
      "Lifters on a tie bar move as a pair, to the intake and exhaust bore of a cylinder whose own lifters are such a pair; turned round only where the job allows it. Of a spare pair the lifter measured first is taken as the intake one.",
    );
  }
  for (const { lifter, why } of pool.unused) notes.push(`Lifter ${lifter} is not used: ${why}.`);
  for (const lifter of pool.lifters) {
    const rule = rules[lifter];
    if (rule?.spare === true && rule.used === true && style === "flat") {
      notes.push(
        `Spare lifter ${lifter} is not used: it has run in an engine, flat-faced, and has no bore of its own here.`,
      );
    }
  }
  return notes;
}

/** Whether the gain in the largest deviation exceeds the uncertainty (two standard deviations) of the bores behind it. */
function canTell(now: readonly Seat[], then: readonly Seat[], before: OrderWorth, after: OrderWorth): boolean {
  const u = Math.max(...[...now, ...then].flatMap(({ fit }) => [fit.extremes.smallest.u, fit.extremes.largest.u]));
  return (before.doubledWorst - after.doubledWorst) / 2 > 2 * u;
}

function isAgainst(bore: string, lifter: string, rules: LifterRules, style: Job["lifter"]["style"]): boolean {
  if (rules[lifter]?.keptFrom?.includes(bore)) return true;
  return mustGoTo(lifter, rules, style).some((must) => must.bore !== bore);
}

function names(what: string, list: readonly string[]): string {
  return `${what}${list.length === 1 ? "" : "s"} ${list.join(", ")}`;
}
