import type { SessionInput } from "../../core/session/event.ts";
import { FeedError, parseFeedLine } from "../../core/session/feed.ts";
import type { Job } from "../../core/session/job.ts";
import { type Io, WrongUse } from "./io.ts";
import { readText } from "./readFiles.ts";
import type { Work } from "./work.ts";

/** Records between two waits for the disk, so that a long feed does not pile up in memory. */
const AT_ONCE = 500;
/** More silences in a row than any walk has; one more would mean that it never ends. */
const MOST_SILENCES = 16;

/**
 * Reads a whole feed before anything is done with it, so that a bad one leaves no half-made session behind.
 * "-" reads standard input.
 * @throws WrongUse for a record that makes no sense, with file, line, field and what was expected.
 */
export async function readFeed(path: string, job: Job, io: Io): Promise<SessionInput[]> {
  const name = path === "-" ? "standard input" : path;
  const lines = path === "-" ? await typedLines(io) : (await readText("feed", path)).split(/\r?\n/);
  const events: SessionInput[] = [];
  for (const [index, line] of lines.entries()) {
    try {
      const event = parseFeedLine(line, index + 1, events.at(-1)?.t ?? 0, job);
      if (event !== null) events.push(event);
    } catch (error) {
      if (error instanceof FeedError) throw new WrongUse(`feed ${name}:${error.line}: ${error.message}`);
      throw error;
    }
  }
  if (events.length === 0) throw new WrongUse(`feed ${name}:1: it is empty; expected one JSON object a line`);
  return events;
}

async function typedLines(io: Io): Promise<string[]> {
  const lines: string[] = [];
  for await (const line of io.typed) lines.push(line);
  return lines;
}

/**
 * Walks by what a bench saw. Silences are put in where they are due; the end of the feed is silence for ever.
 * In a resumed session the feed's times count from its last event.
 */
export async function walkFeed(work: Work, events: readonly SessionInput[], io: Io): Promise<void> {
  const { recording, file } = work;
  const startMs = recording.tMs;
  const append = (input: SessionInput) => {
    const { text, outcomes } = recording.record(input);
    file.append(text, () => outcomes.forEach(work.announce));
  };
  const passSilences = (untilMs: number) => {
    for (let count = 0; count < MOST_SILENCES; count += 1) {
      const due = recording.silenceDueMs();
      if (due === null || due > untilMs) return;
      append({ type: "silence", t: Math.max(due, recording.tMs) });
    }
  };
  for (const [index, event] of events.entries()) {
    if (io.stop.aborted) return;
    const t = startMs + event.t;
    passSilences(t);
    append({ ...event, t });
    if (index % AT_ONCE === AT_ONCE - 1) await file.flush();
  }
  passSilences(Number.POSITIVE_INFINITY);
}
