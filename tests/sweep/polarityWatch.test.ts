import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { PolarityWatch } from "../../core/sweep/polarityWatch.ts";
import { Chance } from "./rocking.ts";
import { play, still } from "./scenes.ts";

describe("what a gauge's way of counting is not judged by", () => {
  it("says nothing of a gauge at rest", () => {
    const watch = new PolarityWatch({ resolutionNm: toNm(1270) });
    for (const sample of play([still(0, 20_000)], 20, 1270, 400, new Chance(1))) watch.push(sample);
    expect(watch.reversed).toBe(false);
  });
});
