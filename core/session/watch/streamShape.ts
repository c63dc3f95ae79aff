import type { Nm } from "../../length/nm.ts";
import { PolarityWatch } from "../../sweep/polarityWatch.ts";
import type { Sample } from "../../sweep/sweep.ts";
import { ContactHole } from "./contactHole.ts";
import { RepeatedValue } from "./repeatedValue.ts";
import type { Sight } from "./sight.ts";
import { TallSwings } from "./tallSwings.ts";
import { TravelEnd } from "./travelEnd.ts";

/** Where the reducer stands while a reading comes; lengths in nm. */
export interface StreamPlace {
  /** Smallest and largest reading that a bore can give; null while that is not known, or not meant to be. */
  readonly nearNm: Nm | null;
  readonly farNm: Nm | null;
  /** A station of a bore is open, so that the gauge ought to be rocked. */
  readonly stationOpen: boolean;
}

/** `look`: the shape that `seen` tells has changed. The others happened with this reading. */
export type ShapeEvent = "look" | "contact-lost" | "frozen";

/** What a stream shows of itself beside its sweeps. Takes every reading; keeps no more than the latest few passes. */
export class StreamShape {
  readonly #travel = new TravelEnd();
  readonly #hole = new ContactHole();
  readonly #repeated = new RepeatedValue();
  readonly #swings = new TallSwings();
  #polarity: PolarityWatch | null;

  /** @param resolutionNm smallest step of the display, nm, positive. */
  constructor(resolutionNm: Nm) {
    this.#polarity = new PolarityWatch({ resolutionNm });
  }

  get seen(): Sight["stream"] {
    return {
      turnsAtLargest: this.#polarity?.reversed ?? false,
      belowRange: this.#travel.below,
      tall: this.#swings.tall,
    };
  }

  /** The polarity is proven, as by the step check: no need to watch it any longer. */
  provePolarity(): void {
    this.#polarity = null;
  }

  /** The stream is broken off: what comes next is no neighbour of what came before. */
  interrupt(): void {
    this.#hole.forget();
    this.#repeated.forget();
  }

  /** Takes the next reading, polarity applied. */
  push(sample: Sample, { nearNm, farNm, stationOpen }: StreamPlace): ShapeEvent | null {
    const reversed = this.#polarity?.reversed ?? false;
    const below = this.#travel.below;
    const tall = this.#swings.tall;
    this.#swings.push(sample);
    this.#polarity?.push(sample);
    this.#travel.push(sample.tMs, sample.valueNm, nearNm);
    const inside = stationOpen && !isOutside(sample.valueNm, nearNm, farNm);
    if (!inside) this.interrupt();
    else if (this.#hole.push(sample)) return "contact-lost";
    if (inside && this.#repeated.push(sample)) return "frozen";
    const reversedNow = this.#polarity?.reversed ?? false;
    const changed = this.#travel.below !== below || this.#swings.tall !== tall || reversedNow !== reversed;
    return changed ? "look" : null;
  }
}

function isOutside(valueNm: number, nearNm: number | null, farNm: number | null): boolean {
  return (nearNm !== null && valueNm < nearNm) || (farNm !== null && valueNm > farNm);
}
