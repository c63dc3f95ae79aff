import fCdf from "@stdlib/stats-base-dists-f-cdf";
import { rangeFactor } from "./rangeFactor.ts";
import { type Interval, varianceInterval, type WeightedMeanSquare } from "./studyIntervals.ts";

/** One measurement of a study: the same part (bore) by the same person at least twice. */
export interface StudyReading {
  readonly part: string;
  readonly appraiser: string;
  /** Any length unit, the same for all; results come in it. */
  readonly value: number;
}

export interface StudyOptions {
  /** Width of the allowed band, in the unit of the readings; null leaves the share of the band out. */
  readonly band: number | null;
  /** Of the intervals, inside 0 … 1; 0.95 if not given. */
  readonly confidence?: number;
}

/** Thrown when readings do not make a study; the message says what is missing and where. */
export class StudyError extends Error {
  override readonly name = "StudyError";
}

export interface VarianceRow {
  readonly source: "part" | "appraiser" | "interaction" | "repeatability";
  readonly sumSquares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
  /** Null for repeatability. */
  readonly f: number | null;
  /** Probability of a larger F by chance. */
  readonly p: number | null;
}

/** One component as a standard deviation, with its shares. */
export interface StudyComponent {
  readonly deviation: number;
  /** Of the total standard deviation, 0 … 1; shares of deviations do not add up to 1. */
  readonly shareOfStudy: number;
  /** Of the total variance, 0 … 1. */
  readonly shareOfVariance: number;
  /** Six deviations over the band; null without a band. */
  readonly shareOfBand: number | null;
  /** Of the deviation; null from ranges. */
  readonly interval: Interval | null;
}

export interface StudyResult {
  readonly method: "analysis of variance" | "average and range";
  readonly repeatability: StudyComponent;
  /** Appraisers, with their interaction with the parts. */
  readonly reproducibility: StudyComponent;
  readonly gauge: StudyComponent;
  readonly part: StudyComponent;
  readonly total: StudyComponent;
  /** Number of distinct categories, ⌊1.41·part/gauge⌋, at least 1; null when the gauge showed no scatter at all. */
  readonly categories: number | null;
}

export interface VarianceStudy extends StudyResult {
  readonly method: "analysis of variance";
  readonly table: readonly VarianceRow[];
  /** True when the interaction was not significant at 25 % and was taken into repeatability. */
  readonly pooled: boolean;
  readonly appraiser: StudyComponent;
  readonly interaction: StudyComponent;
}

/** Interactions less likely than this to be chance are kept; common practice in gauge studies. */
const POOL_ABOVE = 0.25;

interface Design {
  readonly parts: readonly string[];
  readonly appraisers: readonly string[];
  readonly trials: number;
  /** Readings of a part by an appraiser, relative to the first reading of the study. */
  readonly cells: readonly (readonly (readonly number[])[])[];
}

/** Sorts readings into a balanced design. Values are taken relative to the first, so that no digits are lost. */
function designOf(readings: readonly StudyReading[]): Design {
  const parts = [...new Set(readings.map(({ part }) => part))];
  const appraisers = [...new Set(readings.map(({ appraiser }) => appraiser))];
  const origin = readings[0]?.value ?? 0;
  const cells = parts.map((part) =>
    appraisers.map((appraiser) =>
      readings.filter((each) => each.part === part && each.appraiser === appraiser).map(({ value }) => value - origin),
    ),
  );
  const trials = cells[0]?.[0]?.length ?? 0;
  cells.forEach((row, p) => {
    row.forEach((cell, a) => {
      if (cell.length === trials) return;
      throw new StudyError(
        `${appraisers[a]} measured ${parts[p]} ${cell.length} times, ${appraisers[0]} measured ${parts[0]} ${trials} ` +
          "times: expected the same number of measurements of every part by every person",
      );
    });
  });
  if (parts.length < 2 || trials < 2) {
    throw new StudyError(
      `found ${parts.length} part(s) measured ${trials} time(s) by each person: expected at least 2 parts, 2 times each`,
    );
  }
  return { parts, appraisers, trials, cells };
}

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const squares = (values: readonly number[], about: number) =>
  values.reduce((sum, value) => sum + (value - about) ** 2, 0);
const range = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

/**
 * Repeatability and reproducibility by a two-way analysis of variance with interaction, parts and people random; with
 * one person a one-way analysis, and no reproducibility. Sums of squares are those of deviations from means, never
 * differences of raw sums. Source: the automotive measurement-systems manual, 4th edition, appendix A (read at second
 * hand); the F of parts and of people is taken over the interaction, or over repeatability once pooled.
 * @throws StudyError unless every person measured every part equally often, at least twice.
 */
export function studyByVariance(readings: readonly StudyReading[], options: StudyOptions): VarianceStudy {
  const { parts, appraisers, trials, cells } = designOf(readings);
  const [p, a, r] = [parts.length, appraisers.length, trials];
  const cellMeans = cells.map((row) => row.map(mean));
  const partMeans = cellMeans.map(mean);
  const appraiserMeans = appraisers.map((_, at) => mean(cellMeans.map((row) => row[at] ?? 0)));
  const grand = mean(partMeans);
  let within = 0;
  let between = 0;
  cells.forEach((row, i) => {
    row.forEach((cell, j) => {
      const cellMean = cellMeans[i]?.[j] ?? 0;
      within += squares(cell, cellMean);
      between += r * (cellMean - (partMeans[i] ?? 0) - (appraiserMeans[j] ?? 0) + grand) ** 2;
    });
  });
  const part = meanSquareOf(a * r * squares(partMeans, grand), p - 1);
  const appraiser = meanSquareOf(p * r * squares(appraiserMeans, grand), a - 1);
  const interaction = meanSquareOf(between, (p - 1) * (a - 1));
  const repeatability = meanSquareOf(within, p * a * (r - 1));

  const interactionRow = rowOf("interaction", interaction, repeatability);
  const pooled = a === 1 || (interactionRow.p ?? 0) > POOL_ABOVE;
  const error = pooled
    ? meanSquareOf(between + within, interaction.degreesOfFreedom + repeatability.degreesOfFreedom)
    : repeatability;
  const over = pooled ? error : interaction;
  const table: VarianceRow[] = [
    rowOf("part", part, over),
    ...(a === 1 ? [] : [rowOf("appraiser", appraiser, over), interactionRow]),
    { source: "repeatability", ...repeatability, f: null, p: null },
  ];

  const terms: Record<"repeatability" | "appraiser" | "interaction" | "part", readonly Term[]> = {
    repeatability: [[error, 1]],
    appraiser:
      a === 1
        ? []
        : [
            [appraiser, 1 / (p * r)],
            [over, -1 / (p * r)],
          ],
    interaction: pooled
      ? []
      : [
          [interaction, 1 / r],
          [error, -1 / r],
        ],
    part: [
      [part, 1 / (a * r)],
      [over, -1 / (a * r)],
    ],
  };
  const variance = (of: readonly Term[]) =>
    Math.max(
      0,
      of.reduce((sum, [{ meanSquare }, coefficient]) => sum + coefficient * meanSquare, 0),
    );
  const components = {
    repeatability: variance(terms.repeatability),
    appraiser: variance(terms.appraiser),
    interaction: variance(terms.interaction),
    part: variance(terms.part),
  };
  const reproducibility = components.appraiser + components.interaction;
  const gauge = components.repeatability + reproducibility;
  const total = gauge + components.part;
  const confidence = options.confidence ?? 0.95;
  const component = (value: number, ...from: readonly (readonly Term[])[]) => {
    const together = addUp(from.flat());
    return componentOf(
      value,
      total,
      options.band,
      together.length === 0 ? null : varianceInterval(together, confidence),
    );
  };
  return {
    method: "analysis of variance",
    table,
    pooled,
    repeatability: component(components.repeatability, terms.repeatability),
    appraiser: component(components.appraiser, terms.appraiser),
    interaction: component(components.interaction, terms.interaction),
    reproducibility: component(reproducibility, terms.appraiser, terms.interaction),
    gauge: component(gauge, terms.appraiser, terms.interaction, terms.repeatability),
    part: component(components.part, terms.part),
    total: component(total, ...Object.values(terms)),
    categories: categoriesOf(components.part, gauge),
  };
}

interface MeanSquare {
  readonly sumSquares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
}

function meanSquareOf(sumSquares: number, degreesOfFreedom: number): MeanSquare {
  return { sumSquares, degreesOfFreedom, meanSquare: sumSquares / degreesOfFreedom };
}

function rowOf(source: VarianceRow["source"], above: MeanSquare, below: MeanSquare): VarianceRow {
  const f = below.meanSquare > 0 ? above.meanSquare / below.meanSquare : null;
  const p = f === null ? null : 1 - fCdf(f, above.degreesOfFreedom, below.degreesOfFreedom);
  return { source, ...above, f, p };
}

/** A mean square and its coefficient in a component of variance. */
type Term = readonly [square: MeanSquare, coefficient: number];

/** Adds up the coefficients of one and the same mean square, which must not count as two independent ones. */
function addUp(terms: readonly Term[]): WeightedMeanSquare[] {
  const coefficients = new Map<MeanSquare, number>();
  for (const [square, coefficient] of terms) {
    coefficients.set(square, (coefficients.get(square) ?? 0) + coefficient);
  }
  return [...coefficients].map(([square, coefficient]) => ({ ...square, coefficient }));
}

function componentOf(variance: number, total: number, band: number | null, of: Interval | null): StudyComponent {
  const deviation = Math.sqrt(variance);
  return {
    deviation,
    shareOfStudy: total === 0 ? 0 : Math.sqrt(variance / total),
    shareOfVariance: total === 0 ? 0 : variance / total,
    shareOfBand: band === null || band <= 0 ? null : (6 * deviation) / band,
    interval: of === null ? null : { low: Math.sqrt(of.low), high: Math.sqrt(of.high) },
  };
}

/** √2 is cut to 1.41 by the manual; the number is cut to a whole one, and 1 says that parts cannot be told apart. */
function categoriesOf(part: number, gauge: number): number | null {
  return gauge === 0 ? null : Math.max(1, Math.floor(1.41 * Math.sqrt(part / gauge)));
}

/** K = 1/d to four places, as the manual's tables print it. */
const printedFactor = (d: number) => Math.round(10_000 / d) / 10_000;

/**
 * The same by averages and ranges: EV = R̄/d2, AV = √((X̄diff/d2*)² − EV²/(parts·trials)), PV = R_p/d2*, each d2* that of
 * a single range. Source: the automotive measurement-systems manual, 4th edition, chapter III (read at second hand); the
 * factors are computed and rounded to its four places. Interaction is not seen, so its figures differ from those above.
 * @throws StudyError unless every person measured every part equally often, at least twice.
 */
export function studyByRange(readings: readonly StudyReading[], options: StudyOptions): StudyResult {
  const { parts, appraisers, trials, cells } = designOf(readings);
  const ranges = cells.flatMap((row) => row.map(range));
  const repeatability = (mean(ranges) * printedFactor(rangeFactor(trials).mean)) ** 2;
  let reproducibility = 0;
  if (appraisers.length > 1) {
    const averages = appraisers.map((_, at) => mean(cells.map((row) => mean(row[at] ?? []))));
    const between = (range(averages) * printedFactor(rangeFactor(appraisers.length).rootMeanSquare)) ** 2;
    reproducibility = Math.max(0, between - repeatability / (parts.length * trials));
  }
  const partAverages = cells.map((row) => mean(row.map(mean)));
  const part = (range(partAverages) * printedFactor(rangeFactor(parts.length).rootMeanSquare)) ** 2;
  const gauge = repeatability + reproducibility;
  const total = gauge + part;
  const component = (variance: number) => componentOf(variance, total, options.band, null);
  return {
    method: "average and range",
    repeatability: component(repeatability),
    reproducibility: component(reproducibility),
    gauge: component(gauge),
    part: component(part),
    total: component(total),
    categories: categoriesOf(part, gauge),
  };
}
