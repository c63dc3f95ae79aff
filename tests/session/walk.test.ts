import { describe, expect, it } from "vitest";
import { Bench, jobFile } from "./bench.ts";

const places = (bench: Bench) =>
  bench.outcomes.flatMap((outcome) => (outcome.type === "station" ? [`${outcome.bore} ${outcome.place.height}`] : []));

describe("a walk by data button", () => {
  it("moves on at once when a station's sweeps agree, in walk order", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    expect(bench.here).toBe("1E upper axial");
    bench.press(40, 41, 40);
    expect(bench.here).toBe("1E lower axial");
    bench.press(42, 42, 42);
    expect(bench.here).toBe("1I upper axial");
    expect(places(bench)).toEqual(["1E upper", "1E lower"]);
  });

  it("takes the smallest press of a station and the median of held minima", () => {
    for (const [sends, expected] of [
      ["press", 40_000],
      ["held", 41_000],
    ] as const) {
      const gauges = [{ id: "bore", role: "bore", sends, unit: "mm", resolution: "0.001 mm" }];
      const bench = new Bench(jobFile({ gauges }));
      bench.zero();
      bench.step("bores");
      bench.press(42, 40, 41);
      const station = bench.outcomes.find((outcome) => outcome.type === "station");
      expect(station).toMatchObject({ valueNm: expected });
    }
  });

  it("waits for sweeps that agree: the last three, not any three", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(60, 40, 50, 41, 47, 40, 40);
    expect(bench.here).toBe("1E upper axial");
    bench.press(40);
    expect(bench.here).toBe("1E lower axial");
  });

  it("reads the clearance against the zero, the set lifter and the lifter of the bore", () => {
    const bench = new Bench();
    bench.step("lifters");
    bench.mic(21.4, 21.398, 21.401, 21.4);
    bench.zero(-4);
    bench.step("bores");
    bench.press(36, 36, 36, 36, 36, 36);
    bench.press(36, 36, 36, 36, 36, 36);
    expect(bench.bore("1E")).toMatchObject({ clearanceMinNm: 40_000, verdict: "fits", preferred: true });
    expect(bench.bore("1I")).toMatchObject({ clearanceMinNm: 42_000, verdict: "fits" });
    expect(bench.bore("2E")).toMatchObject({ verdict: "not measured" });
  });

  it("asks for a return check after the bores it is told to, and moves to it by itself", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(11).fill(40));
    expect(bench.recording.guideNext()).toBeNull();
    bench.press(40);
    expect(bench.recording.view().returnDue).toBe(true);
    expect(bench.recording.guideNext()).toEqual({ step: "return", auto: true });
    bench.step("return");
    bench.press(0, 1, 0);
    expect(bench.recording.guideNext()).toEqual({ step: "bores", auto: true });
    bench.step("bores");
    expect(bench.here).toBe("2I upper axial");
    expect(bench.codes()).toEqual([]);
  });

  it("is complete only when the return check after the last bore held", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.step("return");
    bench.press(0, 0, 0);
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    expect(bench.recording.run.complete).toBe(false);
    bench.step("return");
    bench.press(0, 0, 0);
    expect(bench.recording.run.complete).toBe(true);
    expect(bench.outcomes.filter((outcome) => outcome.type === "complete")).toHaveLength(1);
  });

  it("needs no return check where none is asked for", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero();
    bench.step("bores");
    bench.press(...Array(24).fill(40));
    expect(bench.recording.run.complete).toBe(true);
  });

  it("gives no verdict on a moved zero and makes just the bores since the last good check due again", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.step("return");
    bench.press(1, 1, 1);
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.step("return");
    bench.press(9, 9, 9);
    expect(bench.codes()).toContain("zero-moved");
    expect(bench.bore("1E").verdict).toBe("fits");
    expect(bench.bore("2I").verdict).toBe("not measured");
    expect(bench.bore("2I").clearanceMinNm).toBeNull();
    expect(bench.recording.run.complete).toBe(false);
    bench.step("bores");
    expect(bench.here).toBe("2I upper axial");
    bench.press(...Array(12).fill(49));
    bench.step("return");
    bench.press(9, 9, 9);
    expect(bench.bore("2I")).toMatchObject({ verdict: "fits", clearanceMinNm: 40_000 });
    expect(bench.codes()).toEqual([]);
    expect(bench.recording.run.complete).toBe(true);
  });
});

describe("a zero that no check followed", () => {
  it("does not complete the walk: a new zero is no return check of the one before it", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.zero(3);
    bench.step("bores");
    bench.press(...Array(12).fill(43));
    bench.step("return");
    bench.press(3, 3, 3);
    expect(bench.recording.run.complete).toBe(false);
    expect(bench.codes()).toEqual(["order-of-work"]);
    const notice = bench.recording.run.notices.find((other) => other.curedMs === undefined);
    expect(notice?.text).toContain("1E, 1I");
    bench.step("bores");
    for (const bore of ["1E", "1I"]) {
      bench.feed({ type: "go", bore });
      bench.press(...Array(6).fill(43));
    }
    bench.step("return");
    bench.press(3, 3, 3);
    expect(bench.codes()).toEqual([]);
    expect(bench.recording.run.complete).toBe(true);
  });

  it("is none of it where no return check is asked for", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.zero(3);
    bench.step("bores");
    bench.press(...Array(12).fill(43));
    expect(bench.codes()).toEqual([]);
    expect(bench.recording.run.complete).toBe(true);
  });

  it("cannot be checked in a micrometer set to another lifter: that is a new zero", () => {
    const bench = new Bench();
    bench.step("lifters");
    bench.mic(21.4, 21.39, 21.4, 21.4);
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.step("return", { lifter: "1I" });
    bench.press(-10, -10, -10);
    expect(bench.recording.view().references.map(({ kind, held }) => [kind, held])).toEqual([
      ["zero", true],
      ["zero", true],
    ]);
    expect(bench.bore("1E").verdict).toBe("fits");
  });
});

describe("striking", () => {
  it("a press in the air takes back the last sweep of the open station", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(40, 60, 900);
    const { here } = bench.recording.view();
    expect(here?.sweeps.map((sweep) => sweep.use)).toEqual(["kept", "struck"]);
    bench.press(40, 40);
    expect(bench.here).toBe("1E lower axial");
  });

  it("a press in the air takes back the last station when none is open", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(40, 40, 40);
    bench.press(900);
    expect(bench.here).toBe("1E upper axial");
    expect(bench.recording.view().here?.sweeps.map((sweep) => sweep.use)).toEqual(["struck", "struck", "struck"]);
  });

  it("pressed again within two seconds, the station before it as well", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(6).fill(40));
    expect(bench.here).toBe("1I upper axial");
    bench.press(900, 900);
    expect(bench.here).toBe("1E upper axial");
  });

  it("pressed again later, only the last", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(6).fill(40));
    bench.press(40);
    bench.press(900);
    bench.feed({ type: "note", text: "coffee" }, 3000);
    bench.press(900);
    expect(bench.here).toBe("1E lower axial");
  });

  it("the strike of a screen does the same", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(40, 60);
    bench.feed({ type: "strike" });
    bench.press(40, 40);
    expect(bench.here).toBe("1E lower axial");
  });

  it("takes back a lifter reading", () => {
    const bench = new Bench();
    bench.step("lifters");
    bench.mic(21.4, 21.9);
    bench.feed({ type: "strike" });
    expect(bench.recording.view().nextLifter).toBe("1I");
    bench.mic(21.399);
    expect(bench.recording.view().lifters[1]).toMatchObject({ name: "1I", diameterNm: 21_399_000 });
  });
});

describe("jumping", () => {
  it("goes to a bore, and on from there, and comes back to what was left out", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero();
    bench.step("bores");
    bench.feed({ type: "go", bore: "2E" });
    expect(bench.here).toBe("2E upper axial");
    bench.press(...Array(6).fill(40));
    expect(bench.here).toBe("1E upper axial");
  });

  it("measures a finished bore anew", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero();
    bench.step("bores");
    bench.press(...Array(6).fill(40));
    bench.feed({ type: "go", bore: "1E" });
    expect(bench.here).toBe("1E upper axial");
    expect(bench.bore("1E").verdict).toBe("not measured");
    bench.press(...Array(6).fill(45));
    expect(bench.bore("1E").clearanceMinNm).toBe(45_000);
  });

  it("leaves the micrometer for the bore when a zero is there", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array(12).fill(40));
    bench.step("return");
    bench.feed({ type: "go", bore: "2E" });
    expect(bench.recording.view().step).toBe("bores");
    bench.press(40, 40, 40);
    expect(bench.here).toBe("2E lower axial");
  });

  it("waits for the zero when there is none", () => {
    const bench = new Bench();
    bench.step("zero", { lifter: "1E" });
    bench.feed({ type: "go", bore: "2E" });
    expect(bench.recording.view().step).toBe("zero");
    bench.press(0, 0, 0);
    bench.step("bores");
    expect(bench.here).toBe("2E upper axial");
  });

  it("goes to one station of a bore", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero();
    bench.step("bores");
    bench.feed({ type: "go", bore: "1I", station: { height: "lower", clock: "axial" } });
    expect(bench.here).toBe("1I lower axial");
  });
});

describe("trouble as data", () => {
  it("counts and shows a line that is no reading, and cures it with the next good one", () => {
    const bench = new Bench();
    bench.zero();
    bench.feed({ type: "line", gauge: "bore", line: "Err 4" });
    expect(bench.codes()).toEqual(["not-understood"]);
    expect(bench.recording.view().gauges[0]).toMatchObject({ notUnderstood: 1, lastLine: "Err 4" });
    bench.step("bores");
    bench.press(40);
    expect(bench.codes()).toEqual([]);
  });

  it("says that a line's unit is not the gauge's, and forgets it when the gauge is switched", () => {
    const marked = new Bench();
    for (const line of ["+0.0016 in", "+0.0016 in"]) marked.feed({ type: "line", gauge: "bore", line });
    expect(marked.codes()).toEqual(["unit-mismatch"]);
    for (const line of ["+0.041 mm", "+0.041 mm"]) marked.feed({ type: "line", gauge: "bore", line });
    expect(marked.codes()).toEqual([]);
  });

  it("says so where bores are begun without a zero, and keeps nothing", () => {
    const bench = new Bench();
    bench.step("bores");
    bench.press(40, 40, 40);
    expect(bench.codes()).toEqual(["order-of-work"]);
    expect(bench.here).toBeNull();
    bench.zero();
    expect(bench.codes()).toEqual([]);
  });

  it("finds no agreement after twelve sweeps and closes all the same once three agree", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    bench.press(...Array.from({ length: 12 }, (_, index) => 40 + 10 * (index % 3)));
    expect(bench.codes()).toEqual(["no-agreement"]);
    expect(bench.recording.view().here?.state).toBe("no-agreement");
    bench.press(40, 40, 40);
    expect(bench.here).toBe("1E lower axial");
    expect(bench.codes()).toEqual([]);
  });

  it("shows a pulled cable and forgets it when it is back", () => {
    const bench = new Bench();
    bench.zero();
    bench.feed({ type: "link", gauge: "bore", link: "lost", path: "port one" });
    expect(bench.codes()).toEqual(["link-lost"]);
    bench.feed({ type: "link", gauge: "bore", link: "open", path: "port one" });
    expect(bench.codes()).toEqual([]);
  });

  it("notices block and lifter at different temperatures", () => {
    const bench = new Bench();
    bench.step("zero", { lifter: "1E", blockC: 24, lifterC: 20 });
    expect(bench.codes()).toEqual(["temperature"]);
    bench.feed({ type: "temperature", blockC: 21 });
    expect(bench.codes()).toEqual([]);
  });

  it("asks for a return check first after an interruption of an hour", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 8 }));
    bench.zero();
    bench.step("bores");
    bench.press(...Array(6).fill(40));
    bench.feed({ type: "resumed", app: "test 0" }, 3_600_000);
    expect(bench.recording.view().returnDue).toBe(true);
    expect(bench.here).toBe("1I upper axial");
    bench.step("return");
    bench.press(0, 0, 0);
    bench.step("bores");
    expect(bench.recording.view().returnDue).toBe(false);
    expect(bench.here).toBe("1I upper axial");
  });

  it("notices while it is open that the bench stood still, and lets the check come before the bore is finished", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 8 }));
    bench.zero();
    bench.step("bores");
    bench.press(40, 40, 40, 40);
    const { run } = bench.recording;
    expect(bench.recording.guideNext()).toBeNull();
    const due = run.interruptionDueMs() ?? Number.NaN;
    expect(due - run.tMs).toBe(30 * 60_000);
    bench.feed({ type: "silence" }, due - run.tMs - 1);
    expect(run.view().returnDue).toBe(false);
    bench.feed({ type: "silence" }, 1);
    expect(run.interruptionDueMs()).toBeNull();
    expect(bench.codes()).toEqual(["return-due"]);
    expect(bench.recording.guideNext()).toEqual({ step: "return", auto: true });
    expect(run.view().here).toMatchObject({ bore: "1E", place: { height: "lower" } });
    bench.step("return");
    bench.press(0, 0, 0);
    bench.step("bores");
    expect(bench.codes()).toEqual([]);
    // The press made before the interruption still stands.
    bench.press(40, 40);
    expect(bench.here).toBe("1I upper axial");
  });

  it("uses no reading while it is on hold, and no rest of a sweep begun before it", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 8 }));
    bench.zero();
    bench.step("bores");
    bench.press(40, 40);
    bench.feed({ type: "hold", on: true });
    bench.press(90, 90, 90, 90);
    expect(bench.recording.view().here?.sweeps).toHaveLength(2);
    bench.feed({ type: "hold", on: false });
    bench.press(40);
    expect(bench.here).toBe("1E lower axial");
  });

  it("refuses time that goes back", () => {
    const bench = new Bench();
    bench.zero();
    expect(() => bench.recording.record({ type: "take", t: 0 })).toThrow(/time goes back/);
  });
});

describe("the step check", () => {
  it("passes when the gauge answers the step with the right sign", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("step-check", { openedNm: 20_000 });
    bench.press(20);
    expect(bench.recording.view().stepCheck).toMatchObject({ state: "passed", answerNm: 20_000 });
    expect(bench.codes()).toEqual([]);
  });

  it("fails and offers the other polarity when the gauge counts the other way", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("step-check", { openedNm: 20_000 });
    bench.press(-20);
    const { stepCheck } = bench.recording.view();
    expect(stepCheck).toMatchObject({ state: "failed", offer: { polarity: "-" } });
    expect(bench.codes()).toEqual(["step-failed", "polarity-reversed"]);
    bench.feed({ type: "correct", gauge: "bore", polarity: "-" });
    expect(bench.recording.view().references).toEqual([]);
    expect(bench.codes()).toEqual([]);
    bench.step("zero", { lifter: "1E" });
    bench.press(0, 0, 0);
    bench.step("bores");
    bench.press(-40, -40, -40);
    expect(bench.outcomes.filter((outcome) => outcome.type === "station")).toMatchObject([{ clearanceNm: 40_000 }]);
  });

  it("is recorded as skipped", () => {
    const bench = new Bench();
    bench.zero();
    bench.step("bores");
    expect(bench.recording.view().stepCheck.state).toBe("skipped");
  });
});
