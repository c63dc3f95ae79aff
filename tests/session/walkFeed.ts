import { parseFeedLine } from "../../core/session/feed.ts";
import { Recording } from "../../core/session/recording.ts";

/** Walks a feed's lines through a recording, silences included; `text` is the session file it makes. */
export function walkFeed(
  job: Record<string, unknown>,
  lines: readonly string[],
): { readonly recording: Recording; readonly text: string } {
  const recording = Recording.begin({ job, createdIso: "2026-01-02T03:04:05.000Z", app: "test 0" });
  let text = recording.headerText;
  for (const [index, line] of lines.entries()) {
    const input = parseFeedLine(line, index + 1, recording.tMs, recording.job);
    if (input === null) continue;
    for (let due = recording.silenceDueMs(); due !== null && due <= input.t; due = recording.silenceDueMs()) {
      text += recording.record({ type: "silence", t: Math.max(due, recording.tMs) }).text;
    }
    text += recording.record(input).text;
  }
  return { recording, text };
}
