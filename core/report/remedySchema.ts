import { z } from "../zod.ts";

const nm = z.number().int().describe("length, nanometres at 20 °C, signed");

export const REMEDY_KINDS = ["leave", "pair", "hone", "body", "bush"] as const;
const kind = z.enum(REMEDY_KINDS);

/** One way to deal with a bore. */
const optionSchema = z.object({
  kind,
  /** Diameter of the lifter it is for. */
  lifterNm: nm,
  /** Name of that lifter where it is one that was measured; absent for a lifter still to be bought. */
  lifter: z.string().optional(),
  /** Finished diameter between these limits, after the guard band; null where nothing is to be cut. */
  finishLowNm: nm.nullable(),
  /** The size not to pass. */
  finishHighNm: nm.nullable(),
  /** To remove on diameter at the smallest station, to the middle of the finished size; 0 where nothing is cut. */
  removeNm: z.number().int().min(0),
  /** The same at the largest station: what cleans the bore up everywhere. */
  removeAtLargestNm: z.number().int().min(0).optional(),
  possible: z.boolean(),
  /** Why it is not possible, or what it rests on. */
  why: z.string(),
  /** What this does to the bore: the clearance between which it ends. */
  clearanceLowNm: nm.nullable().optional(),
  clearanceHighNm: nm.nullable().optional(),
  /** What is to be in the micrometer when the bore is measured again; null where nothing is cut. */
  measureOn: z.enum(["any lifter", "its lifter"]).nullable().optional(),
  /** Bores that metal is cut in. */
  boresTouched: z.number().int().min(0).optional(),
  /** Rough order of effort, 0 (nothing) upwards; an order, not a measure. */
  effort: z.number().int().min(0),
  /** What the tool can not know of it (wall, oil hole, location, squareness). */
  unknown: z.array(z.string()),
});

/** What to do with each bore and the block: what `remedy --json` prints. Fields may be added later. */
export const remedySchema = z.object({
  format: z.literal("borewright/remedy"),
  version: z.literal(1),
  bores: z.array(
    z.object({
      name: z.string(),
      /** Smallest and largest station diameter; null for a bore not measured. */
      diameterMinNm: nm.nullable(),
      diameterMaxNm: nm.nullable(),
      verdict: z.enum(["fits", "too tight", "too loose", "undecided", "not measured"]),
      options: z.array(optionSchema),
      /** The kind that the block's plan takes; null where none is possible or the bore is not measured. */
      chosen: kind.nullable(),
      /** It fits as planned with nothing cut, yet so near what the rule allows that measuring again may find it undecided. */
      near: z.boolean().optional(),
      /** What is to be in the micrometer when it is measured again; null where nothing is sure to do, or it is open. */
      measureOn: z.enum(["any lifter", "its lifter"]).nullable().optional(),
      /** With `undecided`: what would decide it, before anything is cut. */
      advice: z.string().nullable().optional(),
    }),
  ),
  block: z.object({
    /** Every bore that something is done to, in walking order. */
    plan: z.array(
      z.object({
        bore: z.string(),
        kind,
        /** The lifter that goes in, where it is one that was measured. */
        lifter: z.string().optional(),
        lifterNm: nm.optional(),
        /** It has another lifter now. */
        moves: z.boolean().optional(),
        finishLowNm: nm.nullable().optional(),
        finishHighNm: nm.nullable().optional(),
        removeNm: z.number().int().min(0).optional(),
        removeAtLargestNm: z.number().int().min(0).optional(),
        clearanceLowNm: nm.nullable().optional(),
        clearanceHighNm: nm.nullable().optional(),
        measureOn: z.enum(["any lifter", "its lifter"]).nullable().optional(),
      }),
    ),
    /** Bores that metal is cut in. */
    boresTouched: z.number().int().min(0),
    /** Sum of `removeNm` over the plan. */
    metalNm: z.number().int().min(0).optional(),
    /** Whether every measured bore is expected to be found to fit when the plan is carried out and measured again as told. */
    allFit: z.boolean().optional(),
    /** Bores that fit so narrowly that measuring again may find them undecided. */
    near: z.array(z.string()).optional(),
    /** Why not, bore by bore. */
    open: z.array(z.object({ bore: z.string(), why: z.string(), undecided: z.boolean().optional() })).optional(),
    /** Other plans for the whole block, side by side. */
    plans: z
      .array(
        z.object({
          /** In words, such as "hone only" or "pair, then hone". */
          name: z.string(),
          boresTouched: z.number().int().min(0),
          metalNm: z.number().int().min(0),
          lifterMoves: z.number().int().min(0),
          /** Smallest and largest clearance that a bore ends at, what is left open among them. */
          tightestNm: nm.nullable().optional(),
          loosestNm: nm.nullable().optional(),
          allFit: z.boolean(),
          /** Bores not expected to fit; so many of them are undecided and wait for a better measurement. */
          open: z.number().int().min(0),
          undecided: z.number().int().min(0).optional(),
          /** Bores that fit so narrowly that measuring again may find them undecided. */
          near: z.number().int().min(0).optional(),
          bushes: z.number().int().min(0).optional(),
          /** Sum of the orders of effort: an order, not a measure. */
          effort: z.number().int().min(0).optional(),
          /** This is the plan above. */
          chosen: z.boolean().optional(),
        }),
      )
      .optional(),
  }),
  rule: z.enum(["simple", "guarded"]).optional(),
  limits: z.object({ lowNm: nm, highNm: nm, source: z.string() }).optional(),
  notes: z.array(z.string()).optional(),
  cautions: z.array(z.string()).optional(),
});
export type Remedy = z.infer<typeof remedySchema>;
