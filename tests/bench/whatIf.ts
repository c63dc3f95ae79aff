import { findBores } from "../../core/fit/findBores.ts";
import { compareSessions } from "../../core/report/comparisonReport.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { planningReport } from "../../core/report/planningReport.ts";
import { remedySession } from "../../core/report/remedyReport.ts";
import { resultUnder, underWhatIf, type WhatIf } from "../../core/report/whatIf.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";

const job = {
  format: "borewright/job",
  version: 1,
  stations: ["upper", "lower"].flatMap((height) => ["axial", "cross"].map((clock) => ({ height, clock }))),
};
const WHAT_IF: WhatIf = { limits: "roller", everyLifter: "0.8421 in", blockC: 25, lifterC: 24, rule: "simple" };

/** How long the answers about "what to do" take on a session of 16 bores at 4 places, ms, beside its findings alone. */
export function whatIfTable(shortest: (work: () => void) => number) {
  const { recording } = walkFeed(job, simulateFeed(parseJob(job), { seed: 1, readingsPerSecond: 10 }).lines);
  const input = recording.run.fitInput();
  let sum = 0;
  const findings = shortest(() => {
    sum += findBores(input).length;
  });
  const under = () => underWhatIf(recording, WHAT_IF);
  const session = (created: string) => ({ header: { created }, recording });
  const plan = remedySession(recording);
  const works: Readonly<Record<string, () => number>> = {
    "what if, the whole result": () => resultUnder(recording, "intact", { input: under() }).bores.length,
    "planning figures": () => planningReport(recording).bores.length,
    "comparison of two sessions, plan at hand": () =>
      compareSessions(session("2026-01-01"), session("2026-01-02"), { plan }).bores.length,
    "pairing under a what if": () => pairSession(recording, { input: under() }).assignments.length,
    "remedy under a what if": () => remedySession(recording, { input: under() }).bores.length,
  };
  const rows = Object.entries(works).map(([what, work]) => {
    const ms = shortest(() => {
      sum += work();
    });
    return { what, ms, ratio: ms / findings };
  });
  if (sum === 0) throw new Error("the benchmark did not do its work");
  return [{ what: "findings alone", ms: findings, ratio: 1 }, ...rows];
}
