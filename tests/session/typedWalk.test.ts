import { describe, expect, it } from "vitest";
import { deviationsOf } from "../../core/report/page/deviations.ts";
import { reportInputOf } from "../../core/report/reportOf.ts";
import { reportPage } from "../../core/report/reportPage.ts";
import { resultOf } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { Recording } from "../../core/session/recording.ts";
import { Bench } from "./bench.ts";

/** A V8 measured with a dial bore gauge and a micrometer without outputs: 16 bores, two heights, two sweeps each. */
const typedJob = {
  format: "borewright/job",
  version: 1,
  title: "Read by eye",
  layout: "v8-alternate",
  lifter: { style: "flat", nominal: "0.8420 in" },
  limits: { low: "0.0010 in", high: "0.0022 in", source: "test" },
  rule: "guarded",
  sweepsPerStation: 2,
  agreement: "0.0001 in",
  returnCheckEvery: 8,
  gauges: [
    { id: "dial", role: "bore", source: "typed", unit: "in", resolution: "0.00005 in" },
    { id: "mic", role: "micrometer", source: "typed", unit: "in", resolution: "0.00005 in" },
  ],
};

class TypedBench extends Bench {
  type(line: string, gauge = "dial") {
    return this.feed({ type: "line", gauge, line, by: "hand" });
  }
  get view() {
    return this.recording.view();
  }
}

describe("a typed walk", () => {
  it("of a whole V8 ends complete, with the typing marked in record, result and report, and reads again as it was", () => {
    const bench = new TypedBench(typedJob);
    expect(bench.recording.job.gauges[0]).toMatchObject({ source: "typed", sends: "held" });
    bench.step("lifters");
    expect(bench.view.guide.sentence).toContain("type its diameter");
    for (let index = 0; index < 16; index += 1) bench.type(`0.8420${index % 2 === 0 ? "0" : "5"}`, "mic");
    expect(bench.view.lifters.every(({ diameterNm, typed }) => diameterNm !== null && typed === 1)).toBe(true);
    bench.step("zero", { lifter: bench.recording.job.walk[0] as string });
    expect(bench.view.guide.sentence).toContain("type it");
    bench.type("+0.0002 in");
    bench.type("2 tenths");
    bench.step("bores");
    for (let guard = 0; guard < 200 && !bench.view.complete; guard += 1) {
      if (bench.view.returnDue && bench.recording.guideNext()?.step === "return") {
        bench.step("return");
        bench.type("0.0002 in");
        bench.type("0.0002 in");
        bench.step("bores");
        continue;
      }
      const before = bench.here;
      bench.type("+0.0018 in");
      bench.type("0.00185");
      // As with a data button the next station opens at once.
      if (!bench.view.complete && !bench.view.returnDue) expect(bench.here).not.toBe(before);
    }
    expect(bench.view.complete).toBe(true);
    const result = resultOf(bench.recording, "intact");
    const sweeps = result.bores.flatMap((bore) => bore.stations.flatMap((station) => station.sweeps));
    expect(sweeps).toHaveLength(64);
    expect(sweeps.every((sweep) => sweep.typed === true && sweep.use === "kept")).toBe(true);
    expect(result.zeros.every((zero) => zero.typed === 2)).toBe(true);
    expect(result.lifters.every((lifter) => lifter.typed === 1)).toBe(true);
    // 0.001825 - 0.0002 in, and half a tenth for a lifter that is half a tenth thicker than the one set.
    expect(new Set(result.bores.map((bore) => bore.clearanceMinNm))).toEqual(new Set([41_275, 40_005]));
    expect(bench.text.match(/"by":"hand"/g)).toHaveLength(16 + 64 + 2 * result.zeros.length);

    const read = Recording.read(bench.text);
    expect(read.broken).toEqual([]);
    expect(read.differences).toEqual([]);
    expect(resultOf(read.recording, "intact").bores).toEqual(result.bores);

    const input = reportInputOf(read);
    const deviation = deviationsOf(input).find(({ what }) => what === "Readings typed by a person");
    expect(reportPage(input)).toContain("nothing: read by eye and typed");
    expect(deviation?.lines.join(" ")).toContain("64 sweeps in the bores: every station.");
  });

  it("counts what the eye can resolve in the budget: a coarser dial decides less", () => {
    const uncertainty = (resolution: string) => {
      const bench = new TypedBench({ ...typedJob, gauges: [{ ...typedJob.gauges[0], resolution }] });
      bench.step("zero", { lifter: "1I" });
      bench.type("0.0002");
      bench.type("0.0002");
      bench.step("bores");
      bench.type("0.0018");
      bench.type("0.0018");
      const [station] = bench.recording.run.findings().find((bore) => bore.stations.length > 0)?.stations ?? [];
      const line = station?.budget.find(({ name }) => name === "resolution at the bore");
      return { u: line?.u ?? 0, total: station?.uncertaintyNm ?? 0 };
    };
    const fine = uncertainty("0.00005 in");
    const coarse = uncertainty("0.0002 in");
    expect(fine.u).toBeCloseTo(1270 / Math.sqrt(12), 6);
    expect(coarse.u).toBeCloseTo(5080 / Math.sqrt(12), 6);
    expect(coarse.total).toBeGreaterThan(fine.total);
  });

  it("is checked as any reading is, and a slip is refused: it never strikes", () => {
    const bench = new TypedBench({ ...typedJob, walk: ["1I", "1E"] });
    const { run } = bench.recording;
    bench.step("lifters");
    expect(run.whyNotTyped("mic", "8.42 in")).toMatch(/no lifter of nominally/);
    expect(run.whyNotTyped("mic", "0.8421")).toBeNull();
    bench.type("84.2", "mic");
    expect(bench.view.lifters[0]?.readings).toEqual([]);
    expect(bench.codes()).toContain("not-understood");
    bench.type("0.8421", "mic");
    expect(bench.codes()).not.toContain("not-understood");
    bench.step("zero", { lifter: "1I" });
    bench.type("0.0002");
    // Not within the agreement: the zero stays open.
    bench.type("0.0009");
    expect(bench.view.references).toHaveLength(0);
    bench.feed({ type: "strike" });
    bench.type("0.0002");
    expect(bench.view.references).toHaveLength(1);
    bench.step("bores");
    bench.type("0.0018");
    expect(run.whyNotTyped("dial", "0.18")).toMatch(/no bore of this block can be/);
    expect(run.whyNotTyped("dial", "-0.18")).toMatch(/look at sign, point and unit/);
    expect(run.whyNotTyped("dial", "18")).not.toBeNull();
    expect(run.whyNotTyped("dial", "18 tenths")).toBeNull();
    // Far out of range: with a data button it would be a strike.
    bench.type("0.18");
    expect(bench.view.here?.sweeps.map(({ use }) => use)).toEqual(["kept"]);
    bench.type("0.0018");
    expect(bench.here).toBe("1I lower axial");
    bench.feed({ type: "back" });
    expect(bench.here).toBe("1I upper axial");
    expect(bench.view.here?.sweeps.map(({ use }) => use)).toEqual(["struck", "struck"]);
  });

  it("turns the sign of a dial that counts down, once", () => {
    const down = new TypedBench({ ...typedJob, gauges: [{ ...typedJob.gauges[0], polarity: "-" }] });
    down.step("zero", { lifter: "1I" });
    down.type("-0.0002");
    down.type("-0.0002");
    down.step("bores");
    down.type("-0.0018");
    down.type("-0.0018");
    expect(down.recording.run.findings().flatMap(({ stations }) => stations.map((one) => one.clearanceNm))).toEqual([
      40_640,
    ]);
  });

  it("may stand in for a gauge that streams, as when its battery is empty", () => {
    const bench = new TypedBench({
      ...typedJob,
      gauges: [{ id: "dial", role: "bore", sends: "stream", unit: "in", resolution: "0.00005 in" }],
    });
    bench.step("zero", { lifter: "1I" });
    bench.type("0.0002");
    bench.type("0.0002");
    expect(bench.recording.guideNext()?.step).toBe("bores");
    bench.step("bores");
    const before = bench.here;
    bench.type("0.0018");
    bench.type("0.0018");
    expect(bench.here).not.toBe(before);
  });

  it("keeps `source` in the job's file, and takes no other", () => {
    expect(parseJob(typedJob).gauges[0]?.source).toBe("typed");
    expect(() => parseJob({ ...typedJob, gauges: [{ id: "b", role: "bore", source: "guess" }] })).toThrow(/source/);
  });
});
