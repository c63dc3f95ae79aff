import { describe, expect, it } from "vitest";
import type { StationPlace } from "../../core/block/layout.ts";
import { along, formDirections } from "../../core/session/watch/formDirections.ts";

const at = (height: string, clock: StationPlace["clock"]): StationPlace => ({ height, clock });
const FOUR = [at("upper", "axial"), at("upper", "cross"), at("lower", "axial"), at("lower", "cross")];
const SIX = [...FOUR, at("foot", "axial"), at("foot", "cross")];

describe("directions in which bores differ", () => {
  it.each([
    ["one station", [at("upper", "axial")]],
    ["two heights", [at("upper", "axial"), at("lower", "axial")]],
    ["two clocks", [at("upper", "axial"), at("upper", "cross")]],
    ["three that are no grid", FOUR.slice(0, 3)],
    ["four", FOUR],
    ["six", SIX],
  ])("are as many as the stations, of length one and square to each other: %s", (_, stations) => {
    const directions = formDirections(stations);
    expect(directions).toHaveLength(stations.length);
    for (const [index, one] of directions.entries()) {
      for (const [other, two] of directions.entries()) {
        expect(along(one, two)).toBeCloseTo(index === other ? 1 : 0, 9);
      }
    }
  });

  it("are size, taper and oval first", () => {
    const [size, ...forms] = formDirections(FOUR);
    expect(size).toEqual([0.5, 0.5, 0.5, 0.5]);
    const taper = [3_000, 3_000, 0, 0];
    const oval = [2_000, -2_000, 2_000, -2_000];
    const seen = (values: readonly number[]) => forms.map((form) => Math.round(along(values, form)));
    // Taper of 3 µm between two heights, two stations each: half of it up and down at four stations is 3 µm along.
    expect(seen(taper).map(Math.abs).sort()).toEqual([0, 0, 3_000]);
    expect(seen(oval).map(Math.abs).sort()).toEqual([0, 0, 4_000]);
  });

  it("call a barrel neither taper nor oval", () => {
    const barrel = [0, 0, 900, 900, 0, 0];
    const seen = formDirections(SIX).map((form) => Math.round(along(barrel, form)));
    expect(seen[1]).toBe(0);
    expect(seen[2]).toBe(0);
    expect(seen.filter((value) => value !== 0)).toHaveLength(2);
  });
});
