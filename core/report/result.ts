import type { BoreFinding } from "../fit/finding.ts";
import { FEELS, type FeelView, feelSentence } from "../session/feel.ts";
import type { Recording } from "../session/recording.ts";
import type { Sweep } from "../sweep/sweep.ts";
import { z } from "../zod.ts";

const nm = z.number().int().describe("length, nanometres, signed");
const ms = z.number().min(0).describe("time, milliseconds since the start of the session");

const sweepSchema = z.object({
  t: ms,
  rawMinNm: nm,
  turningPointNm: nm,
  samples: z.number().int().min(1),
  use: z.enum(["kept", "struck", "set aside"]),
  why: z.string().optional(),
  method: z.enum(["rhythm", "parabola", "raw"]),
  methodWhy: z.string().optional(),
  typed: z.literal(true).optional().describe("a person typed it, as read from a dial or display"),
});

const budgetLineSchema = z.object({
  name: z.string(),
  u: z.number(),
  unit: z.string(),
  distribution: z.string(),
  /** Null stands for infinite: a line taken as exact. */
  degreesOfFreedom: z.number().nullable(),
  contributionNm: z.number(),
  share: z.number(),
});

const stationSchema = z.object({
  height: z.string(),
  clock: z.enum(["axial", "cross"]),
  sweeps: z.array(sweepSchema),
  valueNm: nm.nullable(),
  spreadNm: nm.nullable(),
  clearanceNm: nm.nullable(),
  uncertaintyNm: nm.nullable(),
  coverage: z.number(),
  degreesOfFreedom: z.number().nullable(),
  budget: z.array(budgetLineSchema),
  notices: z.array(z.string()),
  /** Only where smallest readings count: what the turning points of the same sweeps give. */
  byTurningPoint: z
    .object({
      valueNm: nm.nullable(),
      spreadNm: nm.nullable(),
      clearanceNm: nm.nullable(),
      uncertaintyNm: nm.nullable(),
    })
    .optional(),
});

const noticeSchema = z.object({
  t: ms,
  code: z.string(),
  text: z.string(),
  gauge: z.string().optional(),
  bore: z.string().optional(),
  height: z.string().optional(),
  clock: z.string().optional(),
  curedT: ms.optional(),
  unlisted: z.number().int().min(1).optional().describe("so many earlier ones like it, all cured, are not listed"),
});

/** The result of a session: what `recheck --json` prints and the last object of a walk. Fields may be added later. */
export const resultSchema = z.object({
  format: z.literal("borewright/result"),
  version: z.literal(1),
  seal: z.enum(["intact", "broken"]),
  lifters: z.array(
    z.object({
      name: z.string(),
      diameterNm: nm,
      readings: z.number().int(),
      typed: z.number().int().optional().describe("how many of the readings a person typed"),
    }),
  ),
  zeros: z.array(
    z.object({
      t: ms,
      valueNm: nm,
      spreadNm: nm,
      sweeps: z.number().int(),
      held: z.boolean(),
      returnNm: nm,
      kind: z.enum(["zero", "return"]),
      lifter: z.string().nullable(),
      typed: z.number().int().optional().describe("how many of its kept sweeps a person typed"),
    }),
  ),
  stepCheck: z.object({
    state: z.string(),
    openedNm: nm.nullable(),
    answerNm: nm.nullable(),
  }),
  bores: z.array(
    z.object({
      name: z.string(),
      /** The lifter its clearances are taken against, after the bore it was measured for; null for the reference lifter. */
      lifter: z.string().nullable().optional(),
      stations: z.array(stationSchema),
      clearanceMinNm: nm.nullable(),
      clearanceMaxNm: nm.nullable(),
      taperNm: nm.nullable(),
      taperUncertaintyNm: nm.nullable(),
      outOfRoundNm: nm.nullable(),
      outOfRoundUncertaintyNm: nm.nullable(),
      verdict: z.enum(["fits", "too tight", "too loose", "undecided", "not measured"]),
      preferred: z.boolean(),
      confidence: z.number().nullable(),
      advice: z.string().nullable(),
      /** What was found by hand, with oil; absent where nothing was entered. It changes no verdict. */
      feel: z
        .object({
          t: ms,
          found: z.enum(FEELS),
          /** The lifter that went into this bore then. */
          lifter: z.string(),
          oil: z.string(),
          note: z.string(),
          /** Why it no longer speaks of what the figures speak of. */
          outdated: z.enum(["other lifter", "measured again"]).nullable(),
          /** A sentence where hand and figures do not say the same. */
          says: z.string().nullable(),
        })
        .optional(),
    }),
  ),
  rule: z.enum(["simple", "guarded"]),
  limits: z.object({
    lowNm: nm,
    highNm: nm,
    preferredLowNm: nm.nullable(),
    preferredHighNm: nm.nullable(),
    serviceHighNm: nm.nullable(),
    source: z.string(),
  }),
  notices: z.array(noticeSchema),
  complete: z.boolean(),
  /** Named where another value of a sweep counts than its turning point. */
  sweepValue: z.literal("smallest-reading").optional(),
  /** Whether a simulated gauge was ever connected, from the link paths on record; nothing was then measured. */
  simulated: z.boolean(),
  /** Where a record written at the time does not agree with what its raw lines give now; empty during a walk. */
  differences: z.array(z.string()),
});
export type Result = z.infer<typeof resultSchema>;

/** A sweep as it stands in files: `t` for the time of its smallest sample. */
export function sweepForFile(sweep: Sweep): Result["bores"][number]["stations"][number]["sweeps"][number] {
  const { tMs, rawMinNm, turningPointNm, samples, use, why, method, methodWhy, typed } = sweep;
  return {
    t: tMs,
    rawMinNm,
    turningPointNm,
    samples,
    use,
    ...(why === undefined ? {} : { why }),
    method,
    ...(methodWhy === undefined ? {} : { methodWhy }),
    ...(typed === undefined ? {} : { typed }),
  };
}

function feelForFile(
  entry: FeelView | undefined,
  verdict: BoreFinding["verdict"],
): Pick<Result["bores"][number], "feel"> {
  if (entry === undefined) return {};
  const { tMs, found, lifter, oil, note, outdated } = entry;
  return { feel: { t: tMs, found, lifter, oil, note, outdated, says: feelSentence(entry, verdict) } };
}

/** How many of the kept sweeps a person typed, where any. */
function typedSweeps(sweeps: readonly Sweep[]): { readonly typed?: number } {
  const typed = sweeps.filter((sweep) => sweep.use === "kept" && sweep.typed === true).length;
  return typed === 0 ? {} : { typed };
}

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);

/**
 * The result of a recording as one plain object. `findings` may be those of other limits or another rule than the
 * job's; then `limits` and `rule` name them.
 */
export function resultOf(
  recording: Recording,
  seal: Result["seal"],
  other: {
    readonly findings?: readonly BoreFinding[];
    readonly limits?: Result["limits"];
    readonly rule?: Result["rule"];
    readonly differences?: readonly string[];
  } = {},
): Result {
  const { run, job } = recording;
  const findings = other.findings ?? run.findings();
  const feel = new Map(run.feel().map((entry) => [entry.bore, entry]));
  return {
    format: "borewright/result",
    version: 1,
    seal,
    lifters: run.lifters.view().flatMap(({ name, diameterNm, readings, typed }) =>
      diameterNm === null
        ? []
        : [
            {
              name,
              diameterNm: diameterNm as number,
              readings: readings.length,
              ...(typed === undefined ? {} : { typed }),
            },
          ],
    ),
    zeros: run.references.map((reference) => ({
      t: reference.tMs,
      valueNm: reference.valueNm,
      spreadNm: reference.spreadNm,
      sweeps: reference.sweeps.filter((sweep) => sweep.use === "kept").length,
      held: reference.held,
      returnNm: reference.returnNm,
      kind: reference.kind,
      lifter: reference.lifter,
      ...typedSweeps(reference.sweeps),
    })),
    stepCheck: {
      state: run.stepCheck.state,
      openedNm: run.stepCheck.openedNm,
      answerNm: run.stepCheck.answerNm,
    },
    bores: findings.map((finding) => ({
      name: finding.name,
      lifter: finding.lifter,
      stations: run.stations.stationsOf(finding.name).map(({ place, collector }) => {
        const found = finding.stations.find(
          (station) => station.place.height === place.height && station.place.clock === place.clock,
        );
        const closed = collector.closedMs !== null;
        return {
          height: place.height,
          clock: place.clock,
          sweeps: collector.sweeps.map(sweepForFile),
          valueNm: closed ? (found?.station.valueNm ?? collector.valueNm) : null,
          spreadNm: closed ? (found?.station.spreadNm ?? collector.spreadNm) : null,
          clearanceNm: found?.clearanceNm ?? null,
          uncertaintyNm: found?.uncertaintyNm ?? null,
          coverage: found?.coverage ?? 0.95,
          degreesOfFreedom: found === undefined ? null : finite(found.degreesOfFreedom),
          budget: (found?.budget ?? []).map((line) => ({ ...line, degreesOfFreedom: finite(line.degreesOfFreedom) })),
          notices: run.notices
            .filter(
              (notice) =>
                notice.bore === finding.name && notice.height === place.height && notice.clock === place.clock,
            )
            .map((notice) => notice.code),
        };
      }),
      clearanceMinNm: finding.clearanceMinNm,
      clearanceMaxNm: finding.clearanceMaxNm,
      taperNm: finding.taperNm,
      taperUncertaintyNm: finding.taperUncertaintyNm,
      outOfRoundNm: finding.outOfRoundNm,
      outOfRoundUncertaintyNm: finding.outOfRoundUncertaintyNm,
      verdict: finding.verdict,
      preferred: finding.preferred,
      confidence: finding.confidence,
      advice: finding.advice,
      ...feelForFile(feel.get(finding.name), finding.verdict),
    })),
    rule: other.rule ?? job.rule,
    limits: other.limits ?? { ...job.limits },
    notices: run.notices.map(({ tMs, curedMs, ...notice }) => ({
      t: tMs,
      ...notice,
      ...(curedMs === undefined ? {} : { curedT: curedMs }),
    })),
    complete: run.complete,
    simulated: recording.simulated,
    differences: [...(other.differences ?? [])],
  };
}
