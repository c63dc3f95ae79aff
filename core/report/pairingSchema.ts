import { z } from "../zod.ts";

const nm = z.number().int().describe("length, nanometres at 20 °C, signed");
const verdict = z.enum(["fits", "too tight", "too loose", "undecided"]);

/** How good an order of the lifters is, in the order in which the aims count. */
const orderSchema = z.object({
  /** Bores inside the limits by the session's rule; more is better, and counts first. */
  fits: z.number().int().min(0),
  /** Bores in the preferred band; more is better. */
  preferred: z.number().int().min(0),
  /** Largest deviation of a bore from the target, not negative; smaller is better. */
  worstDeviationNm: z.number().int().min(0),
  /** Sum of the squared deviations, nm²; smaller is better. */
  sumSquaresNm2: z.number().int().min(0),
  /** Lifters that leave the bore they were measured for (a spare one that goes in has moved); fewer is better. */
  moved: z.number().int().min(0),
});

/** The pairing of lifters with bores: what `pair --json` prints. Fields may be added later. */
export const pairingSchema = z.object({
  format: z.literal("borewright/pairing"),
  version: z.literal(1),
  /** Bores in walking order. */
  assignments: z.array(
    z.object({
      bore: z.string(),
      /** Named after the bore it was measured for, or a spare one by its own name. */
      lifter: z.string(),
      moves: z.boolean(),
      clearanceMinNm: nm,
      clearanceMaxNm: nm,
      verdict,
      preferred: z.boolean(),
      /** Middle of the smallest and largest clearance less the target, signed. */
      deviationNm: nm,
      confidence: z.number(),
      /** Why it stays where it is when it must (used, pinned …); absent otherwise. */
      why: z.string().optional(),
      /** A tie-bar pair that goes in turned round. */
      turned: z.boolean().optional(),
      /** The same bore with the lifter it has now. */
      before: z.object({
        lifter: z.string(),
        clearanceMinNm: nm,
        clearanceMaxNm: nm,
        verdict,
        preferred: z.boolean(),
      }),
    }),
  ),
  before: orderSchema,
  after: orderSchema,
  /** Lifters that are left over, in the order they were measured. */
  leftOver: z.array(z.string()),
  /** Bores of the walk that the pairing leaves alone, each with the reason (not measured …). */
  leftOut: z.array(z.object({ bore: z.string(), why: z.string() })),
  targetNm: nm,
  rule: z.enum(["simple", "guarded"]),
  /** What a reader must know, as sentences. */
  notes: z.array(z.string()),
});
export type Pairing = z.infer<typeof pairingSchema>;
