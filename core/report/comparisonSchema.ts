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
      /** What the change says: beyond its uncertainty or not. */
      change: z.enum(["none seen", "larger", "smaller", "not known"]),
      verdictBefore: verdict,
      verdictAfter: verdict,
      /** What the earlier session's plan had for it. */
      planned: z.enum(["leave", "pair", "hone", "body", "bush"]).nullable(),
      /** Whether the work did what was planned, in a sentence. */
      text: z.string(),
      /** True where the person should look: touched and not planned, planned and not touched, beyond the size not to pass. */
      attention: z.boolean(),
    }),
  ),
  notes: z.array(z.string()),
});
export type Comparison = z.infer<typeof comparisonSchema>;
