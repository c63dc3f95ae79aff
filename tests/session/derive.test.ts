import { describe, expect, test } from "vitest";
import { deriveSession, type Reconsidered } from "../../core/session/derive.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "./walkFeed.ts";

const job = { format: "borewright/job", version: 1, walk: ["1I", "1E", "3I"], returnCheckEvery: 2 };
const { text } = walkFeed(job, simulateFeed(parseJob(job), { seed: 11, readingsPerSecond: 10 }).lines);
const parent = Recording.read(text);
const derive = (changes: readonly Reconsidered[], why = "the gauge slipped") =>
  deriveSession({
    parent,
    parentName: "a-block.bwsession",
    changes,
    why,
    createdIso: "2031-03-02T08:00:00.000Z",
    app: "a test",
  });

const firstStation = () => {
  const station = parent.recording.run.stations.all[0];
  if (station === undefined) throw new Error("the walk has a station");
  return station;
};
const strike = (index: number): Reconsidered => {
  const { bore, place, collector } = firstStation();
  const kept = collector.sweeps.filter(({ use }) => use === "kept");
  return { bore, station: place, sweepMs: kept[index]?.tMs ?? -1, use: "struck" };
};

describe("a derived session", () => {
  test("names its parent by its seal, holds all of its events, and reads back as it was made", () => {
    const { recording, text: derived } = derive([strike(0)]);
    const read = Recording.read(derived);
    expect(read.header.derivedFrom).toEqual({
      name: "a-block.bwsession",
      created: parent.header.created,
      seal: parent.recording.seal,
    });
    expect(read.inputs.slice(0, parent.inputs.length)).toEqual(parent.inputs);
    expect(read.inputs.slice(parent.inputs.length).map(({ type }) => type)).toEqual(["reconsider", "note"]);
    expect([read.broken, read.differences]).toEqual([[], []]);
    expect(read.recording.view()).toEqual(recording.view());
  });

  test("shows the sweep struck and judges its station without it, and no other", () => {
    const change = strike(0);
    const { recording } = derive([change]);
    const sweeps = recording.run.stations.all[0]?.collector.sweeps ?? [];
    expect(sweeps.find(({ tMs }) => tMs === change.sweepMs)?.use).toBe("struck");
    const others = (of: Recording) =>
      of.run.stations.all.slice(1).map(({ collector }) => [collector.valueNm, collector.closedMs, collector.sweeps]);
    expect(others(recording)).toEqual(others(parent.recording));
  });

  test("a sweep struck and given back again leaves the findings as they were", () => {
    const change = strike(1);
    const { text: once } = derive([change]);
    const twice = deriveSession({
      parent: Recording.read(once),
      parentName: "b",
      changes: [{ ...change, use: "kept" }],
      why: "it had not slipped",
      createdIso: "2031-03-02T09:00:00.000Z",
      app: "a test",
    });
    expect(twice.recording.run.findings()).toEqual(parent.recording.run.findings());
    expect(twice.recording.view().complete).toBe(parent.recording.view().complete);
  });

  test("a station without enough sweeps left is measured no more, and the walk not complete", () => {
    const { collector } = firstStation();
    const count = collector.sweeps.filter(({ use }) => use === "kept").length;
    const { recording } = derive(Array.from({ length: count - 1 }, (_, index) => strike(index)));
    expect(recording.run.findings()[0]?.verdict).toBe("not measured");
    expect(recording.run.complete).toBe(false);
    expect(parent.recording.run.complete).toBe(true);
  });

  test("a sweep in the micrometer can be struck as well, and moves every clearance that rests on that zero", () => {
    const [zero] = parent.recording.run.references;
    const lowest = [...(zero?.sweeps ?? [])].sort((a, b) => a.turningPointNm - b.turningPointNm)[0];
    const { recording } = derive([{ sweepMs: lowest?.tMs ?? -1, use: "struck" }]);
    const after = recording.run.references[0];
    if (after?.tMs === zero?.tMs) expect(after?.valueNm).not.toBe(zero?.valueNm);
    else expect(recording.run.references.length).toBe(parent.recording.run.references.length - 1);
  });

  test("tells sweeps of one millisecond apart by striking one after the other", () => {
    const held = {
      ...job,
      walk: ["1I"],
      returnCheckEvery: 0,
      stations: [{ height: "upper", clock: "axial" }],
      gauges: [{ id: "bore", role: "bore", sends: "held", unit: "mm", resolution: "0.001 mm" }],
    };
    const recording = Recording.begin({ job: held, createdIso: "2031-03-02T08:00:00.000Z", app: "a test" });
    let file = recording.headerText;
    const line = (t: number, text: string) => {
      file += recording.record({ type: "line", t, gauge: "bore", line: text }).text;
    };
    file += recording.record({ type: "step", t: 0, step: "zero" }).text;
    for (const t of [10, 20, 30]) line(t, "+0.000");
    file += recording.record({ type: "step", t: 40, step: "bores" }).text;
    for (let press = 0; press < 4; press += 1) line(50, "+0.040");
    const same = { bore: "1I", sweepMs: 50, use: "struck" as const };
    const derived = deriveSession({
      parent: Recording.read(file),
      parentName: "same",
      changes: [same, same],
      why: "pressed twice",
      createdIso: "2031-03-02T08:00:00.000Z",
      app: "a test",
    });
    const uses = derived.recording.run.stations.all[0]?.collector.sweeps.map(({ use }) => use);
    expect(uses).toEqual(["struck", "struck", "kept"]);
  });

  test.each([
    [[], "why", "nothing is changed"],
    [[strike(0)], "  ", "no reason is given"],
    [[{ ...strike(0), sweepMs: 1 }], "why", "there is no sweep at 1 ms in bore 1"],
    [[{ ...strike(0), use: "kept" as const }], "why", "is kept already"],
    [[{ sweepMs: 2, use: "struck" as const }], "why", "there is no sweep at 2 ms in the micrometer"],
  ])("%# is refused with the reason", (changes, why, message) => {
    expect(() => derive(changes, why)).toThrow(message);
  });
});
