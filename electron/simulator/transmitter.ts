import type { Ms } from "../../core/gauge/ms.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { Bench } from "./bench.ts";
import { lineOf, quantised, shown } from "./indicator.ts";
import type { Random } from "./random.ts";

/** A line as sent; `displayNm` is what stands on the display, null if the line was damaged on the way. */
export interface Sent {
  readonly line: string;
  readonly displayNm: Nm | null;
}

/** The electronic side of both gauges: from a true size to the line that arrives, with what can go wrong there. */
export class Transmitter {
  readonly #bench: Bench;
  readonly #noise: Random;
  readonly #damage: Random;
  #frozenUntilMs: Ms = Number.NEGATIVE_INFINITY;
  #frozen: Sent | null = null;
  #last: Sent | null = null;
  #stuck = false;

  constructor(bench: Bench) {
    this.#bench = bench;
    this.#noise = bench.fork("noise");
    this.#damage = bench.fork("damage");
  }

  /** The display repeats its last line until then. */
  freezeUntil(tMs: Ms): void {
    this.#frozenUntilMs = tMs;
    this.#frozen = this.#last;
  }

  /** The plunger sticks at the inner end of its travel. */
  stick(on: boolean): void {
    this.#stuck = on;
  }

  /** The bore gauge's line for a true size between its contacts, nm. */
  bore(sizeNm: number, tMs: Ms): Sent {
    const { bore, garbledPart } = this.#bench;
    if (tMs < this.#frozenUntilMs && this.#frozen !== null) return this.#frozen;
    const size = this.#stuck ? bore.zeroSizeNm + bore.travelLowNm : sizeNm;
    const displayNm = quantised(bore, shown(bore, size, tMs, this.#noise));
    const line = lineOf(bore, displayNm);
    this.#last = { line, displayNm };
    if (garbledPart > 0 && this.#damage.next() < garbledPart) {
      return { line: damaged(line, this.#damage), displayNm: null };
    }
    return this.#last;
  }

  /** The micrometer's line for a lifter, at one temperature with it so that its scale warms as the lifter does. */
  lifter(name: string, tMs: Ms): string {
    const { micrometer } = this.#bench;
    if (micrometer === null) throw new Error("the simulated bench has no micrometer");
    const size = this.#bench.lifterNm(name) + (this.#bench.misreadLifters.get(name) ?? 0);
    return lineOf(micrometer, quantised(micrometer, shown(micrometer, size, tMs, this.#noise)));
  }
}

/** A line with a character that a cable spoilt: never a number any more. */
function damaged(line: string, random: Random): string {
  const at = 1 + random.below(line.length - 1);
  const spoilt = "?#~x"[random.below(4)] ?? "?";
  return `${line.slice(0, at)}${spoilt}${line.slice(at + 1)}`;
}
