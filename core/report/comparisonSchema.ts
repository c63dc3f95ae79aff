import { z } from "../zod.ts";

const nm = z.number().int().describe("length, nanometres at 20 °C, signed");
const verdict = z.enum(["fits", "too tight", "too loose", "undecided", "not measured"]);

/** A later session of a block laid over an earlier one: what `compare --json` prints. Fields may be added later. */
export const comparisonSchema = z.object({
  format: z.literal("borewright/comparison"),
  version: z.literal(1),
  before: z.object({ title: z.string(), block: z.string(), created: z.string() }),
  after: z.object({ title: z.string(), block: z.string(), created: z.string() }),
  bores: z.array(
    z.object({
      name: z.string(),
      stations: z.array(
        z.object({
          height: z.string(),
          clock: z.enum(["axial", "cross"]),
          beforeNm: nm.nullable(),
          afterNm: nm.nullable(),
          /** Diameter after less before: what was cut or worn away; null where one is missing. */
          changeNm: nm.nullable(),
          /** U of the change at 95 %. */
          uncertaintyNm: z.number().int().min(0).nullable(),
        }),
      ),
      /** Smallest and largest change of its stations. */
      changeMinNm: nm.nullable(),
      changeMaxNm: nm.nullable(),
      /** Mean change of its stations less that of the bores that nothing was done to, and its U; null without such bores. */
      besideOthersNm: nm.nullable().optional(),
      besideOthersUncertaintyNm: z.number().int().min(0).nullable().optional(),
      /** What the change says: beyond what its errors explain or not, all bores considered together. */
      change: z.enum(["none seen", "larger", "smaller", "not known"]),
      verdictBefore: verdict,
      verdictAfter: verdict,
      /** What the earlier session's plan had for it. */
      planned: z.enum(["leave", "pair", "hone", "body", "bush"]).nullable(),
      /** The finished diameter it was planned for; `finishHighNm` is the size not to pass. Absent where nothing is cut. */
      finishLowNm: nm.optional(),
      finishHighNm: nm.optional(),
      /** Whether the work did what was planned, in a sentence. */
      text: z.string(),
      /** True where the person should look: touched and not planned, planned and not touched, beyond the size not to pass. */
      attention: z.boolean(),
    }),
  ),
  /** Bores measured under the same settings of the micrometer, and what those that nothing was done to show alike. */
  levels: z
    .array(
      z.object({
        bores: z.array(z.string()),
        from: z.array(z.string()),
        /** Null where too few are left alone, or where they moved by more than the settings explain. */
        changeNm: nm.nullable(),
        uncertaintyNm: z.number().int().min(0).nullable(),
      }),
    )
    .optional(),
  notes: z.array(z.string()),
});
export type Comparison = z.infer<typeof comparisonSchema>;
