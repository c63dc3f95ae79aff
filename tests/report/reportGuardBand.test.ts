import { describe, expect, test } from "vitest";
import { bestEstimate } from "../../core/fit/bestEstimate.ts";
import type { Limits } from "../../core/fit/finding.ts";
import { judge } from "../../core/fit/verdict.ts";
import { typicalStation } from "../../core/report/page/decisionRule.ts";
import { guardBand } from "../../core/report/page/guardBand.ts";
import { reportInputOf, reportOf } from "../../core/report/reportOf.ts";
import { textOf } from "./readMarkup.ts";
import { everyVerdict, sampleSession } from "./sampleSession.ts";

const input = reportInputOf(sampleSession({ clearanceNm: everyVerdict }));
const { limits, bores } = input.result;
const centringNm = input.job.budget.centringNm;

describe("the guard limits that are printed", () => {
  test("are those by which verdicts are made, to the nanometre", () => {
    for (const { stations } of bores) {
      for (const station of stations) {
        const band = guardBand(station, limits, centringNm);
        if (station.clearanceNm === null) {
          expect(band).toBeNull();
          continue;
        }
        if (band === null) throw new Error("some value fits at this uncertainty");
        const lines = station.budget.map((line) => ({
          ...line,
          degreesOfFreedom: line.degreesOfFreedom ?? Number.POSITIVE_INFINITY,
        }));
        const verdictAt = (clearanceNm: number) => {
          const judged = { clearanceNm, ...bestEstimate(clearanceNm, lines, centringNm) };
          return judge([judged], limits as Limits, "guarded").verdict;
        };
        expect(verdictAt(band.lowNm + 1)).toBe("fits");
        expect(verdictAt(band.highNm - 1)).toBe("fits");
        expect(verdictAt(band.lowNm - 1)).toBe("undecided");
        expect(verdictAt(band.highNm + 1)).toBe("undecided");
      }
    }
  });

  test("are none where the gauge cannot decide the band, and the report says so", () => {
    const coarse = reportInputOf(sampleSession({ job: { budget: { indicator: "40 um" }, walk: ["1I", "1E"] } }));
    const station = typicalStation(coarse);
    if (station === null) throw new Error("nothing measured");
    expect(guardBand(station, coarse.result.limits, coarse.job.budget.centringNm)).toBeNull();
    const { recording } = sampleSession({ job: { budget: { indicator: "40 um" }, walk: ["1I", "1E"] } });
    expect(textOf(reportOf({ recording }))).toContain("no value at all would be sure enough to be called fits");
  });

  test("the typical station has as many stations below its U as above it", () => {
    const us = bores.flatMap((bore) => bore.stations).flatMap(({ uncertaintyNm: u }) => (u === null ? [] : [u]));
    const typical = typicalStation(input)?.uncertaintyNm ?? 0;
    expect(us.filter((u) => u < typical).length).toBeLessThanOrEqual(us.length / 2);
    expect(us.filter((u) => u > typical).length).toBeLessThanOrEqual(us.length / 2);
  });
});
