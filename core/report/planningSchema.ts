import { z } from "../zod.ts";

const nm = z.number().int().describe("length, nanometres, signed");

/** Where the value of an assumption comes from. */
const mark = z.enum(["given", "from the job", "common practice, no source", "our choice"]);

const assumptionSchema = z.object({
  /** Under what name another value is given for it. */
  name: z.enum([
    "blockC",
    "lifterC",
    "blockMaterial",
    "lifterMaterial",
    "viscosityPaS",
    "pressureBar",
    "guidedLength",
    "eccentricity",
  ]),
  /** In words for a person. */
  title: z.string(),
  /** As a person writes it, with its unit where that is not in the name. */
  value: z.union([z.number(), z.string()]),
  /** Unit of a number, empty where it has none. */
  unit: z.string(),
  mark,
  /** Why this value, and what it leaves out. */
  text: z.string(),
});

/** What is expected at one clearance; estimates. */
const figureSchema = z.object({
  bore: z.string(),
  /** At 20 °C. */
  clearanceNm: nm,
  /** At the temperatures assumed; negative for an interference. */
  runningNm: nm,
  /** How far off that may be by the expansion coefficients alone. */
  runningHalfWidthNm: z.number().int().min(0),
  /** Oil past the lifter when running, m³/s and mL/min; 0 without a gap, null where the formula does not hold. */
  leakM3PerS: z.number().min(0).nullable(),
  leakMlPerMin: z.number().min(0).nullable(),
  /** Times as much as at the middle of the preferred band (of the limits), running; null without a gap there. */
  leakTimesMiddle: z.number().min(0).nullable(),
  /** Tilt that the running clearance allows over the guided length, milliradians and degrees, exact. */
  tiltMilliradians: z.number().min(0),
  tiltDegrees: z.number().min(0),
  /** The figures in a sentence, with what is wrong with them where something is. */
  text: z.string(),
});
export type PlanningFigure = z.infer<typeof figureSchema>;

/** Planning figures for a session's block, every one an estimate. Fields may be added later. */
export const planningSchema = z.object({
  format: z.literal("borewright/planning"),
  version: z.literal(1),
  /** Always true: nothing here was measured. */
  estimate: z.literal(true),
  assumptions: z.array(assumptionSchema),
  /** The same figures for the middle of the preferred band (of the limits), to compare with. */
  middleOfBand: figureSchema,
  /** The tightest place of the block, the middle one of the bores, the loosest place; null with no bore measured. */
  block: z.object({ smallest: figureSchema, middle: figureSchema, largest: figureSchema }).nullable(),
  /** Every measured bore in walking order, at its smallest clearance, midway, and at its largest. */
  bores: z.array(z.object({ name: z.string(), smallest: figureSchema, middle: figureSchema, largest: figureSchema })),
  /** What a reader must know, as sentences. */
  notes: z.array(z.string()),
});
export type Planning = z.infer<typeof planningSchema>;
