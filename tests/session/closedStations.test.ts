import { expect, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "./walkFeed.ts";

/** Seeds whose oil hole once left a station closed on sweeps that, fitted again with later ones, all disagreed. */
const FOUND = [
  { seed: 500_013, readingsPerSecond: 8, agreement: "0.00005 in" },
  { seed: 500_053, readingsPerSecond: 8, agreement: "0.00005 in" },
  { seed: 500_203, readingsPerSecond: 20, agreement: "0.00005 in" },
] as const;

it.each(FOUND)("no station is closed without the sweeps that close it (seed $seed)", ({ agreement, ...options }) => {
  const job = {
    format: "borewright/job",
    version: 1,
    layout: "i4",
    agreement,
    gauges: [{ id: "bore", role: "bore", sends: "stream", unit: "in", resolution: "0.00005 in" }],
  };
  const { lines } = simulateFeed(parseJob(job), { ...options, blunders: ["contact-lost"] });
  const { run } = walkFeed(job, lines).recording;
  let closed = 0;
  for (const { collector } of run.stations.all) {
    if (collector.closedMs === null) continue;
    closed += 1;
    expect(collector.valueNm).not.toBeNull();
    const kept = collector.sweeps.filter((sweep) => sweep.use === "kept");
    expect(kept.length).toBeGreaterThanOrEqual(run.job.sweepsPerStation);
  }
  expect(closed).toBeGreaterThan(0);
  if (run.complete) expect(run.findings().every((bore) => bore.verdict !== "not measured")).toBe(true);
});
