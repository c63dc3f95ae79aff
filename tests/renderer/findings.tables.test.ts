import { describe, expect, test } from "vitest";
import { confidenceInWords, percentText, ruleInWords } from "../../renderer/findings/ruleInWords.ts";
import { stationRows } from "../../renderer/findings/stationRows.ts";
import { stripScale } from "../../renderer/findings/stripScale.ts";
import { BoresBench, inventedClearance } from "./boresBench.ts";

function walked(stations: number, clearance = inventedClearance): BoresBench {
  const bench = new BoresBench({});
  bench.zero();
  bench.act({ type: "step", step: "bores" });
  bench.walk(stations, clearance);
  return bench;
}

describe("table of stations", () => {
  test("has a row for every station of every bore, measured or not", () => {
    const bench = walked(3);
    const rows = stationRows(bench.run.view().bores, bench.job.stations);
    expect(rows).toHaveLength(32);
    expect(rows.filter((row) => row.span === 2)).toHaveLength(16);
    expect(rows.filter((row) => row.station !== null)).toHaveLength(3);
    expect(rows[0]?.station?.clearanceNm).toBe(bench.run.view().bores[0]?.stations[0]?.clearanceNm);
  });
});

describe("scale of the strip chart", () => {
  test("holds the limits, and every value with its uncertainty that is not wild", () => {
    const bench = walked(8);
    const { bores } = bench.run.view();
    const scale = stripScale(bores, bench.job.limits);
    expect(scale.fromNm).toBeLessThan(bench.job.limits.lowNm);
    expect(scale.toNm).toBeGreaterThan(bench.job.limits.highNm);
    for (const { clearanceNm, uncertaintyNm } of bores.flatMap((bore) => bore.stations)) {
      expect(clearanceNm ?? 0).toBeGreaterThan(scale.fromNm + (uncertaintyNm ?? 0));
      expect(clearanceNm ?? 0).toBeLessThan(scale.toNm - (uncertaintyNm ?? 0));
    }
  });
  test("one wild bore does not squash the band", () => {
    const bench = walked(2, () => 200_000);
    const { limits } = bench.job;
    const scale = stripScale(bench.run.view().bores, limits);
    expect((limits.highNm - limits.lowNm) / (scale.toNm - scale.fromNm)).toBeGreaterThan(0.25);
  });
  test("nothing measured shows the limits alone", () => {
    const bench = new BoresBench({});
    const scale = stripScale(bench.run.view().bores, bench.job.limits);
    expect(scale.fromNm).toBeLessThan(bench.job.limits.lowNm);
    expect(scale.toNm).toBeGreaterThan(bench.job.limits.highNm);
  });
});

describe("verdicts in words", () => {
  test("what is not certain is never printed as certain", () => {
    expect(percentText(0.9999)).toBe("over 99.9\u00a0%");
    expect(percentText(0.00001)).toBe("under 0.1\u00a0%");
    expect(percentText(0.954)).toBe("95.4\u00a0%");
  });
  test("undecided says how likely the bore is inside, the others how sure the verdict is", () => {
    expect(confidenceInWords({ verdict: "undecided", confidence: 0.71 })).toBe("inside with 71.0\u00a0%");
    expect(confidenceInWords({ verdict: "fits", confidence: 0.97 })).toBe("97.0\u00a0% sure");
    expect(confidenceInWords({ verdict: "not measured", confidence: null })).toBe("–");
  });
  test("each rule names what it does with the uncertainty", () => {
    expect(ruleInWords("guarded")).toContain("95 %");
    expect(ruleInWords("simple")).toContain("no part");
  });
});
