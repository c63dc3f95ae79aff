import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { Bench } from "../session/bench.ts";
import { walkBy, walks } from "./actions.ts";

const SEED = 20_261_128;
const RUNS = 60;

describe("what was found by acting, and mended", () => {
  it("a lifter that one goes back to is measured no more, on screen as on replay", () => {
    const bench = new Bench();
    bench.step("lifters");
    bench.mic(21.4, 21.401);
    const before = bench.recording.run.findings();
    bench.feed({ type: "go", bore: "1E" });
    const live = bench.recording.run.findings();
    expect(live).not.toEqual(before);
    expect(live).toEqual(Recording.read(bench.text).recording.run.findings());
  });

  it("a finished bore that one goes back to is measured no more, on screen as on replay", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(40, 40, 40, 41, 40, 40);
    expect(bench.bore("1E").clearanceMinNm).toBe(40_000);
    bench.feed({ type: "go", bore: "1E" });
    expect(bench.bore("1E").clearanceMinNm).toBeNull();
    expect(Recording.read(bench.text).recording.run.findings()).toEqual(bench.recording.run.findings());
  });
});

describe("an operator who does anything at any time", () => {
  it(`strikes just the last, keeps nothing without its sweeps, and leaves a file that replays to the same; ${RUNS} walks (seed ${SEED}; npm run long -- fuzz-actions for many)`, () => {
    fc.assert(fc.property(walks, walkBy), { seed: SEED, numRuns: RUNS });
  }, 120_000);
});
