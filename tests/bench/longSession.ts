import { parseFeedLine } from "../../core/session/feed.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { sha256 } from "../../electron/host/sha256.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";

/** A whole walk of a stream as it would stand on file, with the raw lines it has. */
export interface LongSession {
  readonly text: string;
  /** The file's lines, header included. */
  readonly rows: readonly string[];
  readonly readings: number;
}

export interface SessionSize {
  /** Lifter bores, a multiple of 4 up to 64. */
  readonly bores: number;
  readonly places: number;
  readonly perSecond: number;
  readonly passesPerStation?: number;
}

/** A simulated walk of this size; always the same for the same size. */
export function longSession({ bores, places, perSecond, passesPerStation }: SessionSize): LongSession {
  // Up to sixteen cylinders in two banks, with as many bores each as it takes.
  const cylinders = Math.min(16, Math.max(2, bores / 2));
  const each = bores / cylinders;
  const numbers = Array.from({ length: cylinders }, (_, index) => index + 1);
  const bank = (name: string, own: readonly number[]) => ({
    name,
    cylinders: own,
    bores: own.flatMap(() => Array.from({ length: each }, (_, index) => (index % 2 === 0 ? "I" : "E"))),
  });
  const half = cylinders / 2;
  const job = {
    format: "borewright/job",
    version: 1,
    layout: { firingOrder: numbers, banks: [bank("left", numbers.slice(0, half)), bank("right", numbers.slice(half))] },
    stations: Array.from({ length: places }, (_, index) => ({
      height: `height ${1 + (index >> 1)}`,
      clock: index % 2 === 0 ? "axial" : "cross",
    })),
  };
  const feed = simulateFeed(parseJob(job), {
    seed: 1,
    readingsPerSecond: perSecond,
    ...(passesPerStation === undefined ? {} : { passesPerStation }),
  }).lines;
  const recording = Recording.begin({ job, createdIso: "2026-01-02T03:04:05.000Z", app: "bench 0", hash: sha256 });
  const parts = [recording.headerText];
  let readings = 0;
  for (const [index, line] of feed.entries()) {
    const input = parseFeedLine(line, index + 1, recording.tMs, recording.job);
    if (input === null) continue;
    for (let due = recording.silenceDueMs(); due !== null && due <= input.t; due = recording.silenceDueMs()) {
      parts.push(recording.record({ type: "silence", t: Math.max(due, recording.tMs) }).text);
    }
    if (input.type === "line") readings += 1;
    parts.push(recording.record(input).text);
  }
  const text = parts.join("");
  return { text, rows: text.trimEnd().split("\n"), readings };
}

let sixty: LongSession | null = null;

/** About 60 000 readings: sixteen bores at six places, a hundred readings a second. Made once. */
export function sixtyThousand(): LongSession {
  sixty ??= longSession({ bores: 16, places: 6, perSecond: 100 });
  return sixty;
}
