import { describe, expect, test } from "vitest";
import type { Limits } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import { inLimits, limitsScale, spotOf } from "../../renderer/bores/limitsScale.ts";
import { progressOf } from "../../renderer/bores/progress.ts";
import { walkState } from "../../renderer/bores/walkState.ts";
import { isFree, keyName, withKey } from "../../renderer/controls/walkKeys.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";

function begun(jobFile: Record<string, unknown> = {}): BoresBench {
  const bench = new BoresBench(jobFile);
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  return bench;
}
const stateOf = (bench: BoresBench, notSaved: string | null = null, onDisk = true) =>
  walkState(bench.run.view(), bench.job, notSaved, onDisk);

describe("state of the walk", () => {
  test("says what is the matter, the most pressing first", () => {
    expect(stateOf(new BoresBench({})).kind).toBe("no zero");
    const bench = begun();
    expect(stateOf(bench).kind).toBe("open");
    bench.rock(36_000, 2);
    expect(stateOf(bench)).toMatchObject({ kind: "open", word: "Sweep 1" });
    bench.act({ type: "link", gauge: "bore", link: "lost" });
    expect(stateOf(bench).kind).toBe("gauge lost");
    bench.act({ type: "hold", on: true });
    expect(stateOf(bench).kind).toBe("hold");
    expect(stateOf(bench, "disk full").kind).toBe("not saved");
  });

  test("a closed station is pending until its record is on disk, and only then kept", () => {
    const bench = begun();
    bench.rock(36_000, 5);
    expect(bench.run.view().here?.state).toBe("closed");
    expect(stateOf(bench, null, false).kind).toBe("pending");
    expect(stateOf(bench, null, true).kind).toBe("kept");
  });

  test("no agreement, return check and completion have states of their own", () => {
    const apart = begun();
    apart.rock(
      36_000,
      13,
      [0, 9, 2, 12, 4, 15, 1, 8, 14, 3, 11, 5, 10].map((um) => um * 1000),
    );
    expect(stateOf(apart).kind).toBe("no agreement");
    const due = begun();
    for (let k = 0; k < 16; k += 1) due.station(40_000);
    expect(stateOf(due).kind).toBe("return check");
    const whole = begun();
    whole.walk(32, inventedClearance);
    expect(stateOf(whole).kind).toBe("complete");
  });

  test("before the walk is begun it waits", () => {
    const bench = new BoresBench({});
    bench.zero();
    expect(stateOf(bench).kind).toBe("not begun");
  });
});

describe("progress", () => {
  test("counts from one, and what is done by clearances that stand", () => {
    const bench = begun();
    expect(progressOf(bench.run.view(), bench.job)).toEqual({
      bore: 1,
      bores: 16,
      station: 1,
      stations: 2,
      measuredBores: 0,
      measuredStations: 0,
      allStations: 32,
    });
    bench.walk(3, inventedClearance);
    expect(progressOf(bench.run.view(), bench.job)).toMatchObject({
      bore: 2,
      station: 2,
      measuredBores: 1,
      measuredStations: 3,
    });
  });

  test("stations whose zero moved do not count", () => {
    const bench = begun();
    bench.walk(15, inventedClearance);
    bench.station(40_000);
    bench.returnCheck(9_000);
    expect(progressOf(bench.run.view(), bench.job)).toMatchObject({ measuredBores: 0, measuredStations: 0 });
  });
});

describe("bar of the limits", () => {
  const limits: Limits = {
    lowNm: 33_020 as Nm,
    highNm: 48_260 as Nm,
    preferredLowNm: 38_100 as Nm,
    preferredHighNm: 43_180 as Nm,
    serviceHighNm: null,
    source: "test",
  };
  test("the limits stand at a quarter and three quarters; what is off the scale says on which side", () => {
    const scale = limitsScale(limits);
    expect(spotOf(limits.lowNm, scale)).toEqual({ at: 0.25, beyond: null });
    expect(spotOf(limits.highNm, scale)).toEqual({ at: 0.75, beyond: null });
    expect(spotOf(0, scale)).toEqual({ at: 0, beyond: "below" });
    expect(spotOf(90_000, scale)).toEqual({ at: 1, beyond: "above" });
  });
  test("both ends of the limits and of the preferred band are inside", () => {
    expect(inLimits(33_019, limits)).toBe("below the limits");
    expect(inLimits(33_020, limits)).toBe("inside the limits");
    expect(inLimits(38_100, limits)).toBe("in the preferred band");
    expect(inLimits(43_180, limits)).toBe("in the preferred band");
    expect(inLimits(43_181, limits)).toBe("inside the limits");
    expect(inLimits(48_260, limits)).toBe("inside the limits");
    expect(inLimits(48_261, limits)).toBe("above the limits");
    expect(inLimits(40_000, { ...limits, preferredLowNm: null, preferredHighNm: null })).toBe("inside the limits");
  });
});

describe("keys of the walk", () => {
  const keys = { take: "Space", strike: "Backspace", back: "ArrowLeft", hold: "KeyH" };
  test("are printed as they stand on the keyboard", () => {
    expect(Object.values(keys).map(keyName)).toEqual(["Space", "Backspace", "←", "H"]);
    expect(keyName("NumpadAdd")).toBe("Pad Add");
    expect(keyName("BracketLeft")).toBe("Bracket Left");
    expect(keyName("F13")).toBe("F13");
  });
  test("what a cable types or the page needs cannot be taken", () => {
    for (const code of ["Digit5", "Numpad0", "Enter", "Tab", "Period", "Minus", "ShiftLeft", ""]) {
      expect(isFree(code)).toBe(false);
    }
    for (const code of ["F13", "KeyB", "PageDown", "Space"]) expect(isFree(code)).toBe(true);
  });
  test("a key given to a second control changes places, so that none is lost", () => {
    expect(withKey(keys, "take", "KeyH")).toEqual({
      take: "KeyH",
      strike: "Backspace",
      back: "ArrowLeft",
      hold: "Space",
    });
  });
});
