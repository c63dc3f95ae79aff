import { beforeEach, describe, expect, test } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { bandAnswer } from "../../renderer/job/BandSentence.tsx";
import { draftError, errorAt, keepGauges, newDraft, readKeptGauges, useDraft } from "../../renderer/job/draft.ts";
import { fakeHost } from "./fakeBridge.ts";

function memory(kept: Record<string, string> = {}) {
  return {
    getItem: (key: string) => kept[key] ?? null,
    setItem: (key: string, value: string) => {
      kept[key] = value;
    },
  };
}

describe("the job being written", () => {
  beforeEach(() => useDraft.setState(useDraft.getInitialState(), true));

  test("a new one is a sound job as it stands", () => {
    const job = parseJob(newDraft(null));
    expect(job.layout.bores.length).toBe(16);
    expect(job.gauges.map((gauge) => gauge.role)).toEqual(["bore", "micrometer"]);
    expect(bandAnswer(newDraft(null))?.text.length).toBeGreaterThan(0);
  });

  test("a gauge is changed in its place, added when missing, and a cleared field is gone", () => {
    const { changeGauge } = useDraft.getState();
    changeGauge("bore", { unit: "mm", resolution: "0.001 mm", request: "?\r" });
    expect(useDraft.getState().file.gauges?.[0]).toMatchObject({ id: "bore", unit: "mm", request: "?\r" });
    changeGauge("bore", { request: undefined });
    expect("request" in (useDraft.getState().file.gauges?.[0] ?? {})).toBe(false);
    useDraft.getState().change({ gauges: [] });
    changeGauge("micrometer", {});
    expect(useDraft.getState().file.gauges).toMatchObject([{ role: "micrometer" }]);
  });

  test("limits set to nothing go back to common practice", () => {
    useDraft.getState().change({ limits: { low: "0.001 in", high: "0.002 in" } });
    useDraft.getState().change({ limits: undefined });
    expect("limits" in useDraft.getState().file).toBe(false);
  });

  test.each([
    [{ limits: { low: "0.0013", high: "0.0019 in" } }, "limits.low"],
    [{ limits: { low: "0.0019 in", high: "0.0013 in" } }, "limits"],
    [{ lifter: { nominal: "wide" } }, "lifter.nominal"],
    [{ gauges: [{ id: "bore", role: "bore", resolution: "0 in" }] }, "gauges[0].resolution"],
    [{ sweepsPerStation: 99 }, "sweepsPerStation"],
    [{ layout: "v9" }, "layout"],
    [{ stations: [] }, "stations"],
  ])("what the check says of %j stands at %s", async (part, path) => {
    const host = fakeHost();
    const answer = await host.bridge.call("job.check", { job: { ...newDraft(null), ...part } });
    expect(answer.ok).toBe(false);
    const error = answer.ok ? null : draftError(answer.message);
    expect(error?.path).toBe(path);
    expect(errorAt(error, path)).toBe(error?.message);
    expect(errorAt(error, path.split(/[.[]/)[0] ?? "")).not.toBeNull();
    expect(errorAt(error, "operator")).toBeNull();
  });

  test("a sentence without a path is shown for the whole job", () => {
    expect(draftError("not a job: at all")).toEqual({ path: "", message: "not a job: at all" });
  });

  test("gauges are kept for the next job, and nonsense is not", () => {
    const storage = memory();
    const gauges = newDraft(null).gauges ?? [];
    keepGauges(storage, gauges);
    expect(readKeptGauges(storage)).toEqual(gauges);
    for (const kept of ["{", "[]", '[{"id":3}]', '[{"id":"m","role":"micrometer"}]', "null"]) {
      expect(readKeptGauges(memory({ "borewright.gauges": kept }))).toBeNull();
    }
  });
});
