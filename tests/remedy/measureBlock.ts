import { parseFeedLine } from "../../core/session/feed.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import type { TrueBlock } from "../../electron/simulator/trueBlock.ts";

export type JobJson = Record<string, unknown>;

/** Sixteen bores, two heights, and a gauge that holds the minimum, finer than most: a block is measured in a blink. */
export function blockJob(change: JobJson = {}): JobJson {
  return {
    format: "borewright/job",
    version: 1,
    title: "Worn block",
    gauges: [
      { id: "bore", role: "bore", sends: "held", resolution: "0.00002 in" },
      { id: "mic", role: "micrometer", resolution: "0.00002 in" },
    ],
    budget: { micrometer: "1 um" },
    ...change,
  };
}

/** A whole walk round such a block on the simulated bench; complete, or it throws. */
export function measureBlock(job: JobJson, block: TrueBlock, seed: number, errorShare = 0.5): Recording {
  const { lines } = simulateFeed(parseJob(job), { seed, block, errorShare });
  const recording = Recording.begin({ job, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0", hash: sha256 });
  for (const [index, line] of lines.entries()) {
    const input = parseFeedLine(line, index + 1, recording.tMs, recording.job);
    if (input === null) continue;
    for (let due = recording.silenceDueMs(); due !== null && due <= input.t; due = recording.silenceDueMs()) {
      recording.record({ type: "silence", t: Math.max(due, recording.tMs) });
    }
    recording.record(input);
  }
  if (!recording.run.complete) throw new Error(`the walk of seed ${seed} is not complete`);
  return recording;
}
