import { describe, expect, it } from "vitest";
import type { Job } from "../../core/session/job.ts";
import type { NoticeCode } from "../../core/session/notice.ts";
import type { FeedOptions } from "../../electron/simulator/feed.ts";
import { fourJob, shortJob, stationJob } from "./jobs.ts";
import { shareFound } from "./playFeed.ts";

/** Simulated runs of each blunder; the seeds are 1, 2, 3 … */
const RUNS = 100;

const stream = { sends: "stream" };
const press = { sends: "press" };
const held = { sends: "held" };
const inMm = { unit: "mm", resolution: "0.001 mm" };
const untold = { stepCheck: false, temperatures: false } as const;

interface Case {
  readonly code: NoticeCode;
  readonly how: string;
  readonly job: Job;
  readonly options?: Partial<FeedOptions>;
}

const CASES: readonly Case[] = [
  { code: "polarity-reversed", how: "press", job: shortJob(press) },
  { code: "polarity-reversed", how: "press, no step check", job: shortJob(press), options: untold },
  { code: "polarity-reversed", how: "held, no step check", job: shortJob(held), options: untold },
  { code: "polarity-reversed", how: "stream, no step check", job: shortJob(stream), options: untold },
  { code: "unit-mismatch", how: "press", job: shortJob(press) },
  { code: "unit-mismatch", how: "press in mm, no step check", job: shortJob({ ...press, ...inMm }), options: untold },
  { code: "unit-mismatch", how: "stream", job: shortJob(stream) },
  { code: "unit-mismatch", how: "stream in mm, no step check", job: shortJob({ ...stream, ...inMm }), options: untold },
  { code: "zero-moved", how: "press", job: shortJob(press) },
  { code: "zero-moved", how: "stream", job: stationJob(stream) },
  { code: "too-quick", how: "stream", job: stationJob(stream) },
  { code: "contact-lost", how: "stream", job: stationJob(stream) },
  { code: "no-agreement", how: "press", job: shortJob(press) },
  { code: "no-agreement", how: "stream", job: stationJob(stream) },
  { code: "outlier", how: "held", job: shortJob(held) },
  { code: "outlier", how: "stream", job: stationJob(stream) },
  { code: "same-place", how: "stream", job: fourJob(stream, { walk: ["1E", "1I"] }) },
  { code: "frozen", how: "stream", job: stationJob(stream) },
  { code: "out-of-range", how: "press", job: shortJob(press) },
  { code: "out-of-range", how: "stream", job: stationJob(stream) },
  { code: "odd-lifter", how: "press", job: fourJob(press) },
  { code: "odd-bore", how: "press, sixteen bores", job: fourJob(press, { layout: "v8-alternate" }) },
  { code: "turn-out", how: "press", job: shortJob(press) },
  {
    code: "turn-out",
    how: "press, micrometer in mm",
    job: shortJob(press, {
      gauges: [
        { id: "bore", role: "bore", ...press },
        { id: "mic", role: "micrometer", ...inMm },
      ],
    }),
  },
  { code: "step-failed", how: "press", job: shortJob(press) },
  { code: "step-failed", how: "stream", job: stationJob(stream) },
  { code: "temperature", how: "press, temperatures told", job: shortJob(press) },
];

describe("a blunder at the simulated bench is found in nineteen of twenty runs", () => {
  it.each(CASES)("$code ($how)", ({ code, how, job, options }) => {
    const { share, others } = shareFound(job, [code], code, RUNS, options);
    console.info(`${code} (${how}): found in ${share}; beside it: ${others || "nothing"}`);
    expect(share).toBeGreaterThanOrEqual(0.95);
  });

  it("not-understood, in every run in which a line was damaged", () => {
    const damaged = (lines: string[]) => (lines.some((line) => /"line":"[^"]*[?#~x]/.test(line)) ? lines : null);
    const { share } = shareFound(shortJob(press), ["not-understood"], "not-understood", RUNS, {}, damaged);
    expect(share).toBe(1);
  });
});
