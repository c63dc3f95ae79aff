import type { Ms } from "../gauge/ms.ts";
import type { Nm } from "../length/nm.ts";
import type { Pass } from "../sweep/sweep.ts";
import { judgeReferences } from "../zero/judgeReferences.ts";
import type { JudgedReference, Reference } from "../zero/reference.ts";
import { zeroAt } from "../zero/zeroAt.ts";
import type { Added, SweepCollector } from "./sweepCollector.ts";

/** The zero or return check being taken. */
interface OpenReference {
  readonly kind: "zero" | "return";
  readonly lifter: string | null;
  readonly collector: SweepCollector;
  /** Its index among the closed ones; null while its sweeps do not agree. */
  index: number | null;
  /** It has closed, and the gauge has come to rest or left since. */
  settled: boolean;
}

interface ClosedReference {
  readonly reference: Reference;
  readonly collector: SweepCollector;
}

/** What became of a pass in the micrometer. */
export interface AddedToReference {
  readonly added: Added;
  /** The reference as it now stands; null while it is open. */
  readonly judged: JudgedReference | null;
  /** It has closed by this pass. */
  readonly first: boolean;
}

/** The zeros and return checks of a session: those that have closed, whether they hold, and the one being taken. */
export class ZeroLog {
  readonly #zeroHoldNm: Nm;
  #closed: ClosedReference[] = [];
  #judged: readonly JudgedReference[] = [];
  #open: OpenReference | null = null;

  /** @param zeroHoldNm most that a return check may be off, nm, included */
  constructor(zeroHoldNm: Nm) {
    this.#zeroHoldNm = zeroHoldNm;
  }

  /** Those that have closed, with what the return checks say of them, in order of time; another list once that changes. */
  get judged(): readonly JudgedReference[] {
    return this.#judged;
  }

  /** The sweeps of the one being taken; null while none is. */
  get open(): SweepCollector | null {
    return this.#open?.collector ?? null;
  }

  /** The one being taken has closed, and the gauge has come to rest or left since. */
  get settled(): boolean {
    return this.#open?.settled ?? false;
  }

  /** A new zero is being taken: the gauge may have been set to read anything, and the one before says nothing of it. */
  get beginsAnew(): boolean {
    return this.#open?.kind === "zero";
  }

  /** What the micrometer is set to, by the one being taken or else the last; null where nobody said, or before the first. */
  get lifter(): string | null {
    return (this.#open ?? this.#judged.at(-1))?.lifter ?? null;
  }

  /** The reading that stands for the zero now, nm; null before the first. */
  get zeroNm(): Nm | null {
    return this.#judged.at(-1)?.valueNm ?? null;
  }

  /** Whether a station that closed at this time has a zero that it may stand on. */
  readonly holds = (tMs: Ms): boolean => {
    const { state } = zeroAt(this.#judged, tMs);
    return state === "held" || state === "unchecked";
  };

  /** Whether a return check that held came after this time, before any new zero. */
  checked(tMs: Ms): boolean {
    return zeroAt(this.#judged, tMs).state === "held";
  }

  /** Begins to take one; `lifter` is what the micrometer is set to, null where the operator does not say. */
  begin(step: "zero" | "return", lifter: string | null, collector: SweepCollector): void {
    // Without a zero before it, or in a micrometer set to another lifter, there is nothing to return to.
    const last = this.#judged.at(-1)?.lifter ?? null;
    const returns = step === "return" && this.#judged.length > 0 && (lifter ?? last) === last;
    const kind = returns ? "return" : "zero";
    const set = lifter ?? (kind === "return" ? last : null);
    this.#open = { kind, lifter: set, collector, index: null, settled: false };
  }

  /** Takes no more sweeps of the one being taken; had it closed, it stands. */
  leave(): void {
    this.#open = null;
  }

  /** The gauge has come to rest or left. */
  rest(): void {
    if (this.#open !== null && this.#open.index !== null) this.#open.settled = true;
  }

  /**
   * Adds a pass that ended at `tMs` to the one being taken; null while none is. With `atRest` the gauge rests after each.
   */
  add(pass: Pass, tMs: Ms, atRest: boolean): AddedToReference | null {
    const open = this.#open;
    if (open === null) return null;
    const added = open.collector.add(pass, tMs);
    if (added.reopens) this.#drop(open);
    const reference = referenceOf(open);
    if ((!added.closes && !added.joins) || reference === null) return { added, judged: null, first: false };
    const first = open.index === null;
    if (open.index === null) {
      open.index = this.#closed.length;
      open.settled = atRest;
    }
    this.#closed[open.index] = { reference, collector: open.collector };
    this.#judge();
    return { added, judged: this.#judged[open.index] ?? null, first };
  }

  /**
   * Takes back the one being taken whole, if it has closed: what it was is no longer sure. Its sweeps stay with it,
   * struck, and the next ones begin it again. False if it has not closed.
   */
  takeBack(): boolean {
    const open = this.#open;
    if (open === null || open.index === null) return false;
    open.collector.takeBack();
    this.#drop(open);
    return true;
  }

  /** Forgets all of them. */
  clear(): void {
    this.#closed = [];
    this.#open = null;
    this.#judge();
  }

  /**
   * Strikes a sweep of a closed one, or gives it back. The reference as it then stands; null where its sweeps no longer
   * agree, and it is none, as one that was never closed; undefined where there is no such sweep.
   */
  reconsider(sweepMs: Ms, use: "kept" | "struck"): JudgedReference | null | undefined {
    const index = this.#closed.findIndex(({ collector }) => collector.reconsider(sweepMs, use));
    const found = this.#closed[index];
    if (found === undefined) return undefined;
    const { collector } = found;
    const { closedMs, valueNm, spreadNm, sweeps } = collector;
    const stands = closedMs !== null && valueNm !== null && spreadNm !== null;
    if (stands) this.#closed[index] = { reference: { ...found.reference, valueNm, spreadNm, sweeps }, collector };
    else {
      this.#closed.splice(index, 1);
      // What returned to it returns to nothing, unless the one before was of the same lifter.
      const next = this.#closed[index];
      const lifter = this.#closed[index - 1]?.reference.lifter ?? null;
      if (next?.reference.kind === "return" && (index === 0 || next.reference.lifter !== lifter)) {
        this.#closed[index] = { ...next, reference: { ...next.reference, kind: "zero" } };
      }
    }
    this.#open = null;
    this.#judge();
    return stands ? (this.#judged[index] ?? null) : null;
  }

  #drop(open: OpenReference): void {
    if (open.index !== null) this.#closed.splice(open.index, 1);
    open.index = null;
    open.settled = false;
    this.#judge();
  }

  #judge(): void {
    this.#judged = judgeReferences(
      this.#closed.map(({ reference }) => reference),
      this.#zeroHoldNm,
    );
  }
}

function referenceOf({ kind, lifter, collector }: OpenReference): Reference | null {
  const { closedMs, valueNm, spreadNm, sweeps } = collector;
  if (closedMs === null || valueNm === null || spreadNm === null) return null;
  return { tMs: closedMs, valueNm, spreadNm, sweeps, kind, lifter };
}
