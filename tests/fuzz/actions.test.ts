import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Recording } from "../../core/session/recording.ts";
import { asLine, Bench, jobFile } from "../session/bench.ts";
import { rockedLines, streamWalks, walkBy, walks } from "./actions.ts";

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

  it("a pass that is set aside at a finished station stands on screen as on replay", () => {
    const bench = new Bench(
      jobFile({
        gauges: [
          { id: "bore", role: "bore", sends: "stream", unit: "mm", resolution: "0.001 mm" },
          { id: "mic", role: "micrometer", sends: "press", unit: "mm", resolution: "0.001 mm" },
        ],
      }),
    );
    const rock = (um: number, passes: number) => {
      for (const line of rockedLines(um, passes)) bench.feed({ type: "line", gauge: "bore", line }, 50);
    };
    bench.step("zero");
    rock(0, 5);
    bench.feed({ type: "line", gauge: "bore", line: asLine(900) }, 50);
    bench.step("bores");
    rock(40, 5);
    const sweeps = () => bench.recording.run.findings()[0]?.stations[0]?.station?.sweeps ?? [];
    expect(sweeps().length).toBeGreaterThan(2);
    const before = sweeps().length;
    rock(60, 2);
    expect(sweeps().length).toBeGreaterThan(before);
    expect(sweeps().at(-1)).toMatchObject({ use: "set aside", why: "disagrees" });
    expect(Recording.read(bench.text).recording.run.findings()).toEqual(bench.recording.run.findings());
  });
});

describe("an operator who does anything at any time", () => {
  it(`strikes just the last, keeps nothing without its sweeps, and leaves a file that replays to the same; ${RUNS} walks (seed ${SEED}; npm run long -- fuzz-actions for many)`, () => {
    fc.assert(
      fc.property(walks, (walk) => void walkBy(walk)),
      { seed: SEED, numRuns: RUNS },
    );
  });

  it(`the same with a gauge that sends all the time; ${RUNS} walks`, () => {
    let closed = 0;
    fc.assert(
      fc.property(streamWalks, (walk) => {
        closed += walkBy(walk);
      }),
      { seed: SEED, numRuns: RUNS },
    );
    // Laws that nothing was measured under would say nothing.
    expect(closed).toBeGreaterThan(RUNS / 4);
  });
});
