import { parseFeedLine } from "../../core/session/feed.ts";
import type { Job } from "../../core/session/job.ts";
import type { NoticeCode } from "../../core/session/notice.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { type FeedOptions, simulateFeed } from "../../electron/simulator/feed.ts";

/** Walks a feed's lines through the session reducer, silences included. */
export function playFeed(job: Job, lines: readonly string[]): SessionRun {
  const run = new SessionRun(job);
  for (const [index, line] of lines.entries()) {
    const input = parseFeedLine(line, index + 1, run.tMs, job);
    if (input === null) continue;
    for (let due = run.silenceDueMs(); due !== null && due <= input.t; due = run.silenceDueMs()) {
      run.apply({ type: "silence", t: Math.max(due, run.tMs) });
    }
    run.apply(input);
  }
  return run;
}

/** The notices that tell of a blunder; a return check that is due is part of the work. */
export function alarms(run: SessionRun): NoticeCode[] {
  return [...new Set(run.notices.map((notice) => notice.code))].filter((code) => code !== "return-due");
}

/**
 * Plays a blunder with so many seeds: the share of runs in which `code` was raised, and in which share each other code
 * was. `options` may depend on the seed, as a block does. `change` rewrites a feed before it is played; null leaves out a
 * run in which the blunder did not happen.
 */
export function shareFound(
  job: Job,
  blunders: readonly string[],
  code: NoticeCode,
  runs: number,
  options: Partial<FeedOptions> | ((seed: number) => Partial<FeedOptions>) = {},
  change: (lines: string[]) => string[] | null = (lines) => lines,
): { readonly share: number; readonly others: string } {
  let found = 0;
  let played = 0;
  const others = new Map<NoticeCode, number>();
  for (let seed = 1; played < runs; seed += 1) {
    const given = typeof options === "function" ? options(seed) : options;
    const lines = change(simulateFeed(job, { ...given, seed, blunders }).lines);
    if (lines === null) continue;
    played += 1;
    for (const other of alarms(playFeed(job, lines))) {
      if (other === code) found += 1;
      else others.set(other, (others.get(other) ?? 0) + 1);
    }
  }
  return { share: found / runs, others: [...others].map(([other, count]) => `${other} ${count}`).join(", ") };
}
