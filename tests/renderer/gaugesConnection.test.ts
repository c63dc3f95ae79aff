import { describe, expect, test } from "vitest";
import {
  DEFAULT_CONNECTION,
  keepConnection,
  LIKELY,
  nextLikely,
  readConnections,
} from "../../renderer/gauges/connection.ts";

describe("how a gauge is connected", () => {
  test("trying on goes through every likely speed once and begins again", () => {
    let settings = { ...DEFAULT_CONNECTION, path: "/dev/ttyUSB0" };
    const tried = new Set<string>();
    for (let index = 0; index < LIKELY.length; index += 1) {
      tried.add(`${settings.baud} ${settings.framing}`);
      settings = nextLikely(settings);
    }
    expect(tried.size).toBe(LIKELY.length);
    expect(settings).toEqual({ ...DEFAULT_CONNECTION, path: "/dev/ttyUSB0" });
  });

  test("a speed that is not on the list goes on with the likeliest", () => {
    expect(nextLikely({ ...DEFAULT_CONNECTION, baud: 300 })).toMatchObject({ baud: 9600, framing: "8N1" });
  });

  test("it is kept gauge by gauge and what makes no sense is left out", () => {
    const kept: Record<string, string> = {};
    const storage = {
      getItem: (key: string) => kept[key] ?? null,
      setItem: (key: string, value: string) => {
        kept[key] = value;
      },
    };
    keepConnection(storage, "bore", { ...DEFAULT_CONNECTION, path: "/dev/a" });
    keepConnection(storage, "mic", { ...DEFAULT_CONNECTION, path: "/dev/b", baud: 4800 });
    expect(readConnections(storage).bore?.path).toBe("/dev/a");
    expect(readConnections(storage).mic?.baud).toBe(4800);
    kept["borewright.connections"] = '{"bore":{"path":7},"mic":null}';
    expect(readConnections(storage)).toEqual({});
    kept["borewright.connections"] = "[";
    expect(readConnections(storage)).toEqual({});
  });
});
