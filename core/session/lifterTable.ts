import type { Nm } from "../length/nm.ts";
import { toNm } from "../length/nm.ts";
import { median } from "../sweep/median.ts";
import type { LifterView } from "./view.ts";

/** The diameters read with the micrometer, lifter by lifter: those of the walk in its order, then the spare ones. */
export class LifterTable {
  readonly #names: readonly string[];
  readonly #presses: number;
  readonly #readings: Map<string, Nm[]>;
  /** Whether each reading was typed, in the order of `#readings`. */
  readonly #typed = new Map<string, boolean[]>();
  /** Lifters in the order their readings came, for taking back. */
  #order: string[] = [];
  #next = 0;
  /** The view as it was last asked for; null once it is out of date. */
  #view: readonly LifterView[] | null = null;

  constructor(names: readonly string[], pressesPerLifter: number) {
    this.#names = names;
    this.#presses = pressesPerLifter;
    this.#readings = new Map(names.map((name) => [name, []]));
  }

  /** The lifter the next reading belongs to; null when all are measured. */
  get next(): string | null {
    return this.#names[this.#next] ?? null;
  }

  /** Adds a reading (nm) to the lifter in turn; returns that lifter when this reading completes it. */
  add(valueNm: Nm, typed = false): { name: string; diameterNm: Nm; readings: number } | null {
    const name = this.next;
    if (name === null) return null;
    const readings = this.#readingsOf(name);
    readings.push(valueNm);
    this.#typed.set(name, [...(this.#typed.get(name) ?? []), typed]);
    this.#view = null;
    this.#order.push(name);
    if (readings.length < this.#presses) return null;
    this.#next = this.#names.findIndex((other) => this.#readingsOf(other).length < this.#presses);
    if (this.#next === -1) this.#next = this.#names.length;
    return { name, diameterNm: toNm(median(readings)), readings: readings.length };
  }

  /** Takes back the last reading; returns its lifter, or null if there is none. */
  strike(): string | null {
    const name = this.#order.pop();
    if (name === undefined) return null;
    this.#readingsOf(name).pop();
    this.#typed.get(name)?.pop();
    this.#view = null;
    this.#next = this.#names.indexOf(name);
    return name;
  }

  /** Forgets every reading: they were of another unit. */
  clear(): void {
    for (const name of this.#names) this.#readings.set(name, []);
    this.#typed.clear();
    this.#order = [];
    this.#next = 0;
    this.#view = null;
  }

  /** Jumps to a lifter, whose readings are taken anew. */
  goTo(name: string): void {
    const index = this.#names.indexOf(name);
    if (index === -1) return;
    this.#readings.set(name, []);
    this.#typed.delete(name);
    this.#view = null;
    this.#order = this.#order.filter((other) => other !== name);
    this.#next = index;
  }

  /** Diameter of a measured lifter: the median of its readings, nm; null while it lacks readings. */
  diameterNm(name: string): Nm | null {
    const readings = this.#readings.get(name) ?? [];
    return readings.length < this.#presses ? null : toNm(median(readings));
  }

  /** Every lifter with what was read of it; the same list as long as nothing changes. */
  view(): readonly LifterView[] {
    this.#view ??= this.#names.map((name) => {
      const typed = this.#typed.get(name)?.filter((each) => each).length ?? 0;
      return {
        name,
        diameterNm: this.diameterNm(name),
        readings: [...this.#readingsOf(name)],
        ...(typed === 0 ? {} : { typed }),
      };
    });
    return this.#view;
  }

  #readingsOf(name: string): Nm[] {
    return this.#readings.get(name) ?? [];
  }
}
