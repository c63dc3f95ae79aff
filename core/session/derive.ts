import type { StationPlace } from "../block/layout.ts";
import type { Ms } from "../gauge/ms.ts";
import type { ReadSession } from "./recording.ts";
import { Recording } from "./recording.ts";
import type { Hash } from "./seal.ts";

/** A sweep to be struck or given back, told by the time of its smallest reading; without a bore one in the micrometer. */
export interface Reconsidered {
  readonly bore?: string;
  readonly station?: StationPlace;
  readonly sweepMs: Ms;
  readonly use: "kept" | "struck";
}

/** Thrown when what is to be reconsidered can not be; the message says what was found and what was expected. */
export class DeriveError extends Error {
  override readonly name = "DeriveError";
}

export interface DeriveInput {
  readonly parent: ReadSession;
  readonly parentName: string;
  readonly changes: readonly Reconsidered[];
  /** Words of the person who looked again. */
  readonly why: string;
  readonly createdIso: string;
  readonly app: string;
  readonly hash?: Hash;
}

export interface Derived {
  readonly recording: Recording;
  /** The whole file. */
  readonly text: string;
}

/**
 * A new session with every event of `parent` and, after them, what was reconsidered and why; the parent stays as it is,
 * and the header names it by its last seal.
 * @throws DeriveError when nothing changes, no reason is given, a sweep is not there, or it stands as wanted already.
 */
export function deriveSession(input: DeriveInput): Derived {
  const steps = deriveByEvent(input);
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** `deriveSession`, an event at a time, for a program that has a gauge to listen to in between. */
export function* deriveByEvent(input: DeriveInput): Generator<void, Derived, void> {
  const { parent, changes, why } = input;
  if (changes.length === 0)
    throw new DeriveError("nothing is changed; expected at least one sweep struck or given back");
  if (why.trim() === "") throw new DeriveError("no reason is given; expected words that say why");
  if (parent.broken.length > 0) throw new DeriveError("the seal of this session is broken; nothing is derived from it");
  const recording = Recording.begin({
    job: parent.header.job,
    createdIso: input.createdIso,
    app: input.app,
    derivedFrom: { name: input.parentName, created: parent.header.created, seal: parent.recording.seal },
    ...(input.hash === undefined ? {} : { hash: input.hash }),
  });
  let text = recording.headerText;
  for (const event of parent.inputs) {
    text += recording.record(event).text;
    yield;
  }
  const t = recording.tMs;
  for (const change of changes) {
    checkChange(recording, change);
    const before = standing(recording, change);
    text += recording.record({ type: "reconsider", t, ...change }).text;
    const now = standing(recording, change);
    // A zero that no longer stands is gone with its sweeps.
    if (now.length > 0 && countOf(now, change) === countOf(before, change)) {
      throw new DeriveError(
        `the sweep at ${change.sweepMs} ms was struck with its whole station; it can not be given back`,
      );
    }
  }
  text += recording.record({ type: "note", t, text: why }).text;
  return { recording, text };
}

function checkChange(recording: Recording, change: Reconsidered): void {
  const uses = standing(recording, change);
  const where = change.bore === undefined ? "in the micrometer" : `in bore ${change.bore}`;
  if (uses.length === 0) throw new DeriveError(`there is no sweep at ${change.sweepMs} ms ${where}`);
  if (countOf(uses, change) === uses.length) {
    throw new DeriveError(`the sweep at ${change.sweepMs} ms ${where} is ${uses[0]} already`);
  }
}

type Use = "kept" | "struck" | "set aside";

/** How many of these stand as the change wants it: struck, or not struck. */
function countOf(uses: readonly Use[], { use }: Reconsidered): number {
  return uses.filter((found) => (found === "struck") === (use === "struck")).length;
}

/** How the sweeps with that time stand now; none where there is no such, more than one where two fell into one millisecond. */
function standing({ run }: Recording, { bore, station, sweepMs }: Reconsidered): Use[] {
  const sweeps =
    bore === undefined
      ? run.references.flatMap((reference) => reference.sweeps)
      : (run.stations.find(bore, station)?.collector.sweeps ?? []);
  return sweeps.filter((sweep) => sweep.tMs === sweepMs).map(({ use }) => use);
}
