import type { MethodInput, MethodOutput } from "../../core/bridge/messages.ts";
import { lifterFits } from "../../core/fit/lifterFits.ts";
import { parseLength } from "../../core/length/parseLength.ts";
import type { Comparison } from "../../core/report/comparisonSchema.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import type { Pairing } from "../../core/report/pairingSchema.ts";
import { type PlanningWish, planningReport } from "../../core/report/planningReport.ts";
import type { Planning } from "../../core/report/planningSchema.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import type { Result } from "../../core/report/result.ts";
import { resultBySmallestReading } from "../../core/report/smallestReadingResult.ts";
import { resultUnder, underWhatIf, type WhatIf } from "../../core/report/whatIf.ts";
import type { LifterNote } from "../../core/session/job.ts";
import type { Recording } from "../../core/session/recording.ts";
import type { BoresBench } from "./boresBench.ts";

/** A bench as a recording, as far as pairing, remedy and what-if look at it. */
function recordingOf({ run, job }: BoresBench): Recording {
  return { run, job, simulated: false } as Recording;
}

type Notes = Readonly<Record<string, LifterNote>>;

function inputUnder(bench: BoresBench, whatIf: unknown) {
  return whatIf === undefined ? {} : { input: underWhatIf(recordingOf(bench), whatIf as WhatIf) };
}

/** The program's own pairing of what the bench recorded. */
export function benchPairing(bench: BoresBench, { notes = {}, whatIf }: MethodInput<"session.pairing">): Pairing {
  return pairSession(recordingOf(bench), { notes: notes as Notes, ...inputUnder(bench, whatIf) });
}

/** The program's own remedies for it. */
export function benchRemedy(bench: BoresBench, asked: MethodInput<"session.remedy">): Remedy {
  const { notes = {}, whatIf, lifter } = asked;
  return remedySession(recordingOf(bench), {
    notes: notes as Notes,
    ...(lifter === undefined ? {} : { lifterNm: parseLength(lifter) }),
    ...inputUnder(bench, whatIf),
  });
}

/** The program's own result of it under a what-if. */
export function benchWhatIf(bench: BoresBench, { whatIf }: MethodInput<"session.whatIf">): Result {
  return resultUnder(recordingOf(bench), "intact", inputUnder(bench, whatIf));
}

/** The program's own second look at it, which agrees with itself. */
export function benchRecheck(
  bench: BoresBench,
  { sweepValue }: MethodInput<"session.recheck">,
): MethodOutput<"session.recheck"> {
  const judge = sweepValue === "smallest-reading" ? resultBySmallestReading : resultUnder;
  return { agrees: true, seal: "intact", differences: [], result: judge(recordingOf(bench), "intact", {}) };
}

/** The program's own planning figures for it. */
export function benchPlanning(bench: BoresBench, asked: MethodInput<"session.planning">): Planning {
  return planningReport(recordingOf(bench), {
    assumptions: (asked.assumptions ?? {}) as NonNullable<PlanningWish["assumptions"]>,
    ...inputUnder(bench, asked.whatIf),
  });
}

/** The session laid over one before machining: a few bores opened, one of them not planned, the rest the same. */
export function inventedComparison(bench: BoresBench): Comparison {
  const fits = lifterFits(bench.run.fitInput());
  return {
    format: "borewright/comparison",
    version: 1,
    before: { title: "Before the regrind", block: "bench example", created: "2031-03-02T08:00:00Z" },
    after: { title: bench.job.title, block: bench.job.block, created: "2031-03-20T08:00:00Z" },
    bores: bench.run.view().bores.map((finding, index) => {
      const sized = fits.bores.find(({ name }) => name === finding.name);
      const cut = index % 5 === 2 ? 10_160 : 0;
      const stations = bench.job.stations.map((place, nth) => {
        const station = sized?.stations.find(
          (one) => one.place.height === place.height && one.place.clock === place.clock,
        );
        const afterNm = station === undefined ? null : Math.round(station.boreNm);
        const changeNm = afterNm === null ? null : cut + ((index * 7 + nth * 3) % 5) * 180 - 360;
        return {
          height: place.height,
          clock: place.clock,
          beforeNm: afterNm === null || changeNm === null ? null : afterNm - changeNm,
          afterNm,
          changeNm,
          uncertaintyNm: afterNm === null ? null : 1_900,
        };
      });
      const known = stations.flatMap(({ changeNm }) => (changeNm === null ? [] : [changeNm]));
      const unplanned = index === 7;
      return {
        name: finding.name,
        stations,
        changeMinNm: known.length === 0 ? null : Math.min(...known),
        changeMaxNm: known.length === 0 ? null : Math.max(...known),
        change: known.length === 0 ? ("not known" as const) : cut > 0 ? ("larger" as const) : ("none seen" as const),
        verdictBefore: cut > 0 ? ("too tight" as const) : finding.verdict,
        verdictAfter: finding.verdict,
        planned: cut > 0 && !unplanned ? ("hone" as const) : ("leave" as const),
        text: unplanned
          ? "It grew by 0.00040 in and nothing was planned for it: look at it again."
          : cut > 0
            ? "Honed as planned."
            : "No change is seen beyond the uncertainty, and none was planned.",
        attention: unplanned,
      };
    }),
    notes: ["Invented for looking at the screen."],
  };
}
