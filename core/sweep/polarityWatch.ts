import { type Nm, toNm } from "../length/nm.ts";
import { StreamCutter } from "./streamCutter.ts";
import type { Pass, Sample } from "./sweep.ts";
import { turningPoints } from "./turningPoint.ts";

/** So many passes before anything is said, and so many looked back upon. */
const FEWEST = 4;
const MOST = 8;
/** The ends of a swing scatter at least this many times more than the place where the gauge is square. */
const CLEARLY = 3;

/**
 * Watches whether the sweeps of a stream turn at their largest reading instead of their smallest, as they do when the
 * gauge counts the other way than its profile says.
 *
 * Derived here: square is the same place in every pass, while the ends of the swing wander with the hand. The side on
 * which the turning points repeat is therefore the square one. The shape of a single pass tells nothing: half a cosine
 * looks the same from above and from below.
 */
export class PolarityWatch {
  readonly #resolutionNm: Nm;
  readonly #cutters: { readonly cutter: StreamCutter; readonly sign: 1 | -1; passes: Pass[] }[];
  #reversed = false;

  /** @param options.resolutionNm smallest step of the display, nm, positive. */
  constructor(options: { readonly resolutionNm: Nm }) {
    this.#resolutionNm = options.resolutionNm;
    this.#cutters = [1, -1].map((sign) => ({ cutter: new StreamCutter(options), sign: sign as 1 | -1, passes: [] }));
  }

  /** True once the sweeps were seen to turn at their largest reading; false as long as that is not plain. */
  get reversed(): boolean {
    return this.#reversed;
  }

  /** Takes the next reading, the profile's polarity applied. */
  push(sample: Sample): void {
    for (const side of this.#cutters) {
      const seen = side.sign === 1 ? sample : { tMs: sample.tMs, valueNm: toNm(-sample.valueNm) };
      for (const event of side.cutter.push(seen)) {
        if (event.type === "withdrawn" || event.type === "stopped") side.passes = [];
        if (event.type !== "pass" || event.pass.end !== "turned") continue;
        side.passes = [...side.passes, event.pass].slice(-MOST);
        this.#judge();
      }
    }
  }

  #judge(): void {
    const [plainly, mirrored] = this.#cutters.map(({ passes }) => this.#repeats(passes));
    if (mirrored === true && plainly !== true) this.#reversed = true;
    if (plainly === true && mirrored !== true) this.#reversed = false;
  }

  /** Whether these passes turn at one place, while their ends do not; null with too few to tell. */
  #repeats(passes: readonly Pass[]): boolean | null {
    if (passes.length < FEWEST) return null;
    const square = turningPoints(passes, this.#resolutionNm).map((point) => point.turningPointNm);
    // The way in may lie before the first maximum, so that one does not count.
    const ends = passes.slice(1).map((pass) => (pass.samples[0] as Sample).valueNm);
    return scatter(ends) > CLEARLY * Math.max(scatter(square), this.#resolutionNm / 4);
  }
}

/** Standard deviation, in the unit of the values. */
function scatter(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}
