import { describe, expect, it } from "vitest";
import { EventReader } from "../../renderer/bridge/eventReader.ts";

const STREAM =
  'event: tab\ndata: {"id":"a"}\n\n: still here\n\nevent: host\r\ndata: 1\r\ndata: 2\r\n\r\ndata:plain\n\n';

function read(pieces: readonly string[]): [string, string][] {
  const events: [string, string][] = [];
  const reader = new EventReader((name, data) => events.push([name, data]));
  for (const piece of pieces) reader.push(piece);
  return events;
}

describe("EventReader", () => {
  it("gives the same events whatever pieces the stream comes in", () => {
    const whole = read([STREAM]);
    expect(whole).toEqual([
      ["tab", '{"id":"a"}'],
      ["host", "1\n2"],
      ["message", "plain"],
    ]);
    expect(read([...STREAM])).toEqual(whole);
  });
});
