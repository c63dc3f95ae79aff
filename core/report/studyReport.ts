import {
  type StudyComponent,
  type StudyReading,
  type StudyResult,
  studyByRange,
  studyByVariance,
  type VarianceStudy,
} from "../fit/gaugeStudy.ts";
import { z } from "../zod.ts";
import type { StudyTable } from "./studyTable.ts";
import type { WalkRepeatability } from "./walkRepeatability.ts";

/** Of every interval in a study's result. */
export const STUDY_CONFIDENCE = 0.95;

const deviationNm = z.number().min(0).describe("standard deviation, nanometres");
const interval = z.object({ lowNm: deviationNm, highNm: deviationNm }).describe("of the deviation, at `confidence`");

const component = z.object({
  deviationNm,
  shareOfStudy: z.number().describe("of the total deviation, 0 … 1; these do not add up to 1"),
  shareOfVariance: z.number().describe("of the total variance, 0 … 1"),
  shareOfBand: z.number().nullable().describe("six deviations over the band; null without a band"),
  interval: interval.nullable().describe("null where the method gives none"),
});

const components = {
  repeatability: component,
  reproducibility: component.describe("people, with their interaction with the bores where it is seen"),
  gauge: component.describe("repeatability and reproducibility together"),
  bores: component.describe("the bores themselves"),
  total: component,
};
const categories = z
  .number()
  .int()
  .nullable()
  .describe("number of distinct categories by this method; null when the gauge showed no scatter");

const varianceMethod = z.object({
  method: z.literal("analysis of variance"),
  ...components,
  people: component,
  interaction: component,
  pooled: z.boolean().describe("true when the interaction could be chance and was taken into repeatability"),
  categories,
  table: z.array(
    z.object({
      source: z.enum(["bores", "people", "interaction", "repeatability"]),
      sumSquaresNm2: z.number(),
      degreesOfFreedom: z.number(),
      meanSquareNm2: z.number(),
      f: z.number().nullable(),
      p: z.number().nullable(),
    }),
  ),
});

const rangeMethod = z.object({ method: z.literal("average and range"), ...components, categories });

const pooled = z.object({
  deviationNm,
  degreesOfFreedom: z.number().int(),
  groups: z.number().int().describe("stations, or zeros and return checks, with two kept sweeps or more"),
  interval: interval.nullable(),
});

/** What `borewright study --json` prints. Fields may be added later. */
export const studyResultSchema = z.object({
  format: z.literal("borewright/study-result"),
  version: z.literal(1),
  title: z.string(),
  source: z.string(),
  bandNm: z.number().int().nullable(),
  confidence: z.number(),
  study: z
    .object({
      people: z.array(z.string()),
      bores: z.array(z.string()),
      repeats: z.number().int(),
      readings: z.array(z.object({ person: z.string(), bore: z.string(), valuesNm: z.array(z.number().int()) })),
      methods: z.tuple([varianceMethod, rangeMethod]),
    })
    .nullable()
    .describe("null when only a walk was looked at"),
  walk: z
    .object({
      sends: z.enum(["stream", "press", "held"]),
      bores: pooled.describe("single sweeps in the bores"),
      zeros: pooled.describe("single sweeps in the micrometer"),
      notes: z.array(z.string()),
    })
    .nullable()
    .describe("repeatability pooled over the sweeps of a walk; null for a study from a file"),
});
export type StudyReport = z.infer<typeof studyResultSchema>;
export type StudyMethod = NonNullable<StudyReport["study"]>["methods"][number];
export type ReportedComponent = z.infer<typeof component>;

const bare = ({ deviation, interval: of, ...shares }: StudyComponent): ReportedComponent => ({
  deviationNm: deviation,
  ...shares,
  interval: of === null ? null : { lowNm: of.low, highNm: of.high },
});

const componentsOf = (of: StudyResult) => ({
  repeatability: bare(of.repeatability),
  reproducibility: bare(of.reproducibility),
  gauge: bare(of.gauge),
  bores: bare(of.part),
  total: bare(of.total),
  categories: of.categories,
});

const ROW_NAMES = {
  part: "bores",
  appraiser: "people",
  interaction: "interaction",
  repeatability: "repeatability",
} as const;

function varianceReport(of: VarianceStudy): z.infer<typeof varianceMethod> {
  return {
    method: of.method,
    ...componentsOf(of),
    people: bare(of.appraiser),
    interaction: bare(of.interaction),
    pooled: of.pooled,
    table: of.table.map(({ source, sumSquares, meanSquare, ...rest }) => ({
      source: ROW_NAMES[source],
      sumSquaresNm2: sumSquares,
      meanSquareNm2: meanSquare,
      ...rest,
    })),
  };
}

/**
 * A study by both methods as one plain object; `bandNm` (nm, above 0) stands in for the study's own band.
 * @throws StudyError unless every person measured every bore equally often, at least twice.
 */
export function studyReport(
  table: StudyTable,
  other: { readonly bandNm?: number; readonly walk?: WalkRepeatability } = {},
): StudyReport {
  const bandNm = other.bandNm ?? table.bandNm;
  const readings = table.cells.flatMap(({ person, bore, valuesNm }) =>
    valuesNm.map((value): StudyReading => ({ part: bore, appraiser: person, value })),
  );
  const options = { band: bandNm, confidence: STUDY_CONFIDENCE };
  const byVariance = varianceReport(studyByVariance(readings, options));
  const byRange = studyByRange(readings, options);
  return {
    format: "borewright/study-result",
    version: 1,
    title: table.title,
    source: table.source,
    bandNm,
    confidence: STUDY_CONFIDENCE,
    study: {
      people: [...table.people],
      bores: [...table.bores],
      repeats: table.repeats,
      readings: table.cells.map(({ valuesNm, ...cell }) => ({ ...cell, valuesNm: [...valuesNm] })),
      methods: [byVariance, { method: "average and range", ...componentsOf(byRange) }],
    },
    walk: other.walk ?? null,
  };
}

/** What a walk that is no study says of its gauge. */
export function walkReport(title: string, bandNm: number | null, walk: WalkRepeatability): StudyReport {
  return {
    format: "borewright/study-result",
    version: 1,
    title,
    source: "sweeps of a session",
    bandNm,
    confidence: STUDY_CONFIDENCE,
    study: null,
    walk,
  };
}
