import type { JudgedStation } from "../../fit/advice.ts";
import { LINE } from "../../fit/budget.ts";
import type { FitInput, MeasuredStation } from "../../fit/finding.ts";
import { effectiveDegreesOfFreedom } from "../../fit/gum.ts";
import { keptTurningPoints, stationRepeatability } from "../../fit/repeatability.ts";
import type { SessionScatter } from "../../fit/stationFit.ts";
import { REFERENCE_C } from "../../fit/temperature.ts";
import { zeroAt } from "../../zero/zeroAt.ts";

/** The session an error belongs to. */
export type Side = "before" | "after";

/** One error that a measured size carries. */
export interface ErrorSource {
  /** What carries the same key is the same error: it counts together where it adds, and cancels where it is taken off. */
  readonly key: string;
  /** What one standard deviation of it does to the size, nm, signed. */
  readonly byNm: number;
  /** Sources whose standard deviation is known from one pooled scatter name it: they share its degrees of freedom. */
  readonly pool: string;
  readonly degreesOfFreedom: number;
  /** True where large errors are far commoner than a normal distribution has them: a press is long, by now and then a lot. */
  readonly longTailed?: boolean;
}

/** A size measured in one session, with all of its errors; nm, unrounded. */
export interface Sized {
  readonly valueNm: number;
  readonly sources: readonly ErrorSource[];
}

const EXACT = Number.POSITIVE_INFINITY;

/**
 * The errors of a bore's size over the lifter that the micrometer was set to, source by source: the lines of its budget
 * (`stationBudget`), each given to what it comes from. Laid over another session of the same block, the difference of
 * two sizes keeps of them (derived here from c = g·(r_bore − r_zero), each length at 20 °C):
 *
 * - the lifter itself: none where both sessions were zeroed on the same one, whose size then is in neither clearance.
 *   Where it is another, or counts as measured anew, the micrometer counts once in each session (`micrometerSource`).
 * - repeatability, resolution and drift of bore and zero: both sessions', since each was read anew. Those of a zero are
 *   shared by the stations that lie between the same references, each reference with its weight. That presses are long on
 *   average cancels with the same hand in both; it may be another, so it stays counted.
 * - transfer through the micrometer: both. Its faces may be the same, but the feel of setting it is not, and nobody
 *   knows how much of the line is which. One setting is shared by all stations measured under it.
 * - indicator: both; it may be another one, or stand elsewhere on its travel. Within a session it is shared by the
 *   stations, which lie a few µm apart on that travel, as in `form.ts`.
 * - centring: short by 0 … a in both; its mean cancels, so each counts a/√12, station by station.
 * - temperatures: both, shared by the stations of a session; another day has other ones, and a thermometer that errs the
 *   same way twice only makes the change better known than stated.
 * - expansion coefficients: the same materials in both, so only their part in the difference of the two temperatures is
 *   left, D·u(α)·(T₂ − T₁), and the product with how well each temperature is known, D·u(α)·u(T), in each session.
 */
export function stationSources(
  side: Side,
  input: FitInput,
  scatter: SessionScatter,
  station: MeasuredStation,
  judged: JudgedStation,
): ErrorSource[] {
  const contribution = (name: string) => judged.budget.lines.find((line) => line.name === name)?.contributionNm ?? 0;
  const place = `${station.bore} ${station.place.height} ${station.place.clock}`;
  const own = (what: string, byNm: number): ErrorSource => single(`${side} ${what}`, byNm);
  const { temperature } = judged;
  return [
    {
      key: `${side} sweeps ${place}`,
      byNm: contribution(LINE.station),
      pool: `${side} sweeps in the bores`,
      degreesOfFreedom: scatter.bore.degreesOfFreedom,
      longTailed: input.sends === "press",
    },
    own(`resolution ${place}`, contribution(LINE.resolutionBore)),
    own(`centring ${place}`, contribution(LINE.centring) / 2),
    ...zeroSources(),
    own("indicator", contribution(LINE.indicator)),
    own(`setting ${settingMs(input, station.tMs)}`, contribution(LINE.transfer)),
    own("temperature", -signed(LINE.temperature, input.materials.block.alpha - input.materials.lifter.alpha)),
    own("block temperature", -contribution(LINE.blockTemperature)),
    own("lifter temperature", contribution(LINE.lifterTemperature)),
    ...expansion("block", -1, temperature.blockC),
    ...expansion("lifter", 1, temperature.lifterC),
  ].filter(({ byNm }) => byNm !== 0);

  function signed(name: string, sign: number): number {
    return Math.sign(sign) * contribution(name);
  }

  function zeroSources(): ErrorSource[] {
    const zero = zeroAt(input.references, station.tMs);
    if (zero.state === "none" || zero.state === "moved") return [];
    const { before, after } = zero;
    const share = after === null ? 0 : (station.tMs - before.tMs) / (after.tMs - before.tMs);
    const weighted = [
      { reference: before, weight: 1 - share },
      ...(after === null ? [] : [{ reference: after, weight: share }]),
    ];
    const sweeps = weighted.map(({ reference, weight }) => {
      const count = Math.max(1, keptTurningPoints(reference.sweeps).length);
      return weight * stationRepeatability(scatter.zero, count);
    });
    const norm = Math.hypot(...sweeps);
    const weights = Math.hypot(...weighted.map(({ weight }) => weight));
    return [
      ...weighted.flatMap(({ reference, weight }, index): ErrorSource[] => [
        {
          key: `${side} zero ${reference.tMs}`,
          byNm: norm === 0 ? 0 : (-contribution(LINE.zero) * (sweeps[index] ?? 0)) / norm,
          pool: `${side} sweeps in the micrometer`,
          degreesOfFreedom: scatter.zero.degreesOfFreedom,
          longTailed: input.sends === "press",
        },
        own(`zero resolution ${reference.tMs}`, (-contribution(LINE.resolutionZero) * weight) / weights),
      ]),
      own(`drift ${before.tMs}`, contribution(LINE.drift)),
    ];
  }

  function expansion(part: "block" | "lifter", sign: 1 | -1, celsius: number): ErrorSource[] {
    const material = input.materials[part];
    const perDegree = (judged.setNm * material.alphaHalfWidth * 1e-6) / Math.sqrt(3);
    return [
      single(`expansion of the ${part}: ${material.id} ${material.alpha}`, sign * perDegree * (celsius - REFERENCE_C)),
      own(`expansion of the ${part} by its temperature`, (perDegree * temperature.halfWidthC) / Math.sqrt(3)),
    ];
  }
}

/**
 * What a lifter's diameter, read with the micrometer, adds where the lifters of the two sessions are compared by it:
 * its maximum error and its graduation, once a session (GUM 4.3.7).
 */
export function micrometerSource(side: Side, input: FitInput, lifter: string): ErrorSource {
  const once = Math.hypot(input.budget.micrometerNm / Math.sqrt(3), input.micrometerResolutionNm / Math.sqrt(12));
  return single(`${side} micrometer on lifter ${lifter}`, once);
}

/** When the micrometer was set to what a station that closed at `tMs` was measured against. */
export function settingMs(input: FitInput, tMs: number): number {
  return input.references.findLast((reference) => reference.kind === "zero" && reference.tMs <= tMs)?.tMs ?? 0;
}

function single(key: string, byNm: number): ErrorSource {
  return { key, byNm, pool: key, degreesOfFreedom: EXACT };
}

/** A sum of sizes, each with its weight. */
export function weighted(parts: readonly { readonly size: Sized; readonly weight: number }[]): Sized {
  const sources = new Map<string, ErrorSource>();
  let valueNm = 0;
  for (const { size, weight } of parts) {
    valueNm += weight * size.valueNm;
    for (const source of size.sources) {
      const byNm = (sources.get(source.key)?.byNm ?? 0) + weight * source.byNm;
      sources.set(source.key, { ...source, byNm });
    }
  }
  return { valueNm, sources: [...sources.values()] };
}

/** What a size is uncertain by, nm: altogether, and of that by errors with long tails. */
export interface SizeUncertainty {
  readonly u: number;
  readonly degreesOfFreedom: number;
  readonly longTailed: number;
}

/** Combined standard uncertainty of a size and its effective degrees of freedom. Source: GUM 5.1.2, G.4.1. */
export function uncertaintyOf({ sources }: Sized): SizeUncertainty {
  const pools = new Map<string, { variance: number; degreesOfFreedom: number }>();
  for (const { byNm, pool, degreesOfFreedom } of sources) {
    const found = pools.get(pool) ?? { variance: 0, degreesOfFreedom };
    found.variance += byNm ** 2;
    pools.set(pool, found);
  }
  const contributions = [...pools.values()].map(({ variance }) => Math.sqrt(variance));
  return {
    u: Math.hypot(...contributions),
    degreesOfFreedom: effectiveDegreesOfFreedom(
      contributions,
      [...pools.values()].map(({ degreesOfFreedom }) => degreesOfFreedom),
    ),
    longTailed: Math.hypot(...sources.flatMap(({ byNm, longTailed }) => (longTailed === true ? [byNm] : []))),
  };
}

/** Covariance of two sizes, nm²: of the errors that they share. */
export function covariance(one: Sized, other: Sized): number {
  const shared = new Map(other.sources.map(({ key, byNm }) => [key, byNm]));
  return one.sources.reduce((sum, { key, byNm }) => sum + byNm * (shared.get(key) ?? 0), 0);
}
