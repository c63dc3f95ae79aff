import { comparisonSchema } from "../../core/report/comparisonSchema.ts";
import { pairingSchema } from "../../core/report/pairingSchema.ts";
import { parcelCheckSchema, parcelManifestSchema } from "../../core/report/parcelSchema.ts";
import { planningSchema } from "../../core/report/planningSchema.ts";
import { remedySchema } from "../../core/report/remedySchema.ts";
import { resultSchema } from "../../core/report/result.ts";
import { studyFileSchema } from "../../core/report/studyFile.ts";
import { studyResultSchema } from "../../core/report/studyReport.ts";
import { sessionLineSchema } from "../../core/session/eventSchema.ts";
import { feedRecordSchema } from "../../core/session/feed.ts";
import { jobFileSchema } from "../../core/session/jobFile.ts";
import { z } from "../../core/zod.ts";
import { EXIT, type Io, WrongUse } from "./io.ts";
import { readOptions } from "./options.ts";

const SCHEMAS = {
  job: { schema: jobFileSchema, title: "Borewright job file (*.job.json)" },
  feed: { schema: feedRecordSchema, title: "One line of a Borewright feed (*.feed.ndjson)" },
  session: { schema: sessionLineSchema, title: "One line of a Borewright session file (*.bwsession)" },
  result: { schema: resultSchema, title: "Borewright result" },
  pairing: { schema: pairingSchema, title: "Borewright pairing of lifters with bores" },
  remedy: { schema: remedySchema, title: "Borewright remedy, bore by bore and for the block" },
  comparison: { schema: comparisonSchema, title: "Borewright comparison of two sessions of one block" },
  planning: { schema: planningSchema, title: "Borewright planning figures, every one an estimate" },
  study: { schema: studyFileSchema, title: "Borewright gauge study file (*.study.json)" },
  "study-result": { schema: studyResultSchema, title: "Borewright result of a gauge study" },
  parcel: { schema: parcelManifestSchema, title: "Borewright parcel (*.bwparcel), its manifest.json" },
  "parcel-check": { schema: parcelCheckSchema, title: "Borewright check of a parcel" },
} as const;

export const SCHEMA_HELP = `borewright schema job|feed|session|result|pairing|remedy|comparison|planning|study|
                  study-result|parcel|parcel-check

Prints the JSON Schema (draft 2020-12) of a format. The schemas of feed and
session describe one line; their files hold one JSON object a line.
`;

/** `borewright schema`: prints the JSON Schema of a format. */
export async function schema(args: readonly string[], io: Io): Promise<number> {
  const { files } = readOptions("schema", args, {}, 1);
  const name = files[0] ?? "";
  if (!Object.hasOwn(SCHEMAS, name)) {
    throw new WrongUse(`schema: found "${name}"; expected one of ${Object.keys(SCHEMAS).join(", ")}`);
  }
  const { schema: wanted, title } = SCHEMAS[name as keyof typeof SCHEMAS];
  io.out(`${JSON.stringify({ title, ...z.toJSONSchema(wanted, { io: "input", unrepresentable: "any" }) }, null, 2)}\n`);
  return EXIT.done;
}
