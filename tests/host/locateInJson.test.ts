import { describe, expect, it } from "vitest";
import { locateInJson } from "../../electron/cli/locateInJson.ts";

const TEXT = `{
  "title": "a \\"}] trap",
  "limits": {"low": 1,
    "high": [1, {"x": null}]},
  "gauges": [
    {"id": "bore"},
    {"id": "mic",
     "unit": "in"}
  ]
}`;

describe("locateInJson", () => {
  it.each([
    ["", 1],
    ["title", 2],
    ["limits.low", 3],
    ["limits.high", 4],
    ["limits.high[1].x", 4],
    ["gauges", 5],
    ["gauges[1]", 7],
    ["gauges[1].unit", 8],
    // Not there: the line of what is around it.
    ["gauges[1].baud", 7],
    ["gauges[9].unit", 5],
    ["rule", 1],
  ])("finds %j on line %i", (path, line) => {
    expect(locateInJson(TEXT, path)).toBe(line);
  });
});
