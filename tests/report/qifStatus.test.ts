import { describe, expect, it } from "vitest";
import { blockStatus, boreStatus, stationStatus } from "../../core/report/qifStatus.ts";
import { type Result, resultOf } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "../session/walkFeed.ts";

const job = {
  format: "borewright/job",
  version: 1,
  walk: ["1I", "1E"],
  gauges: [
    { id: "bore", role: "bore", sends: "held", unit: "in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in" },
  ],
};
const result = resultOf(walkFeed(job, simulateFeed(parseJob(job), { seed: 5 }).lines).recording, "intact");
type Bore = Result["bores"][number];
const [bore] = result.bores as [Bore];
const [station] = bore.stations as [Bore["stations"][number]];

/** A station whose one line of uncertainty is `u`, its odds those of a bore with `clearanceNm`. */
const stationOf = (clearanceNm: number, u: number, degreesOfFreedom: number | null) => ({
  ...station,
  clearanceNm,
  uncertaintyNm: 2 * u,
  budget: [{ name: "one", u, unit: "nm", distribution: "normal", degreesOfFreedom, contributionNm: u, share: 1 }],
});
const limits = { ...result.limits, lowNm: 30_000, highNm: 50_000 };
const under = { ...result, limits };
const undecided: Bore = { ...bore, verdict: "undecided" };
const status = (clearanceNm: number, u: number, degreesOfFreedom: number | null, of: Bore = undecided) =>
  stationStatus(under, of, stationOf(clearanceNm, u, degreesOfFreedom), 0);

describe("the status of a station", () => {
  it("is its own, by the rule and the limits", () => {
    expect(status(40_000, 500, null)).toBe("PASS");
    expect(status(50_000, 500, null)).toBe("INDETERMINATE");
    expect(status(52_000, 500, null)).toBe("FAIL");
    expect(status(28_000, 500, null)).toBe("FAIL");
    const simple = { ...under, rule: "simple" as const };
    expect(stationStatus(simple, undecided, stationOf(50_000, 500, null), 0)).toBe("PASS");
    expect(stationStatus(simple, undecided, stationOf(50_001, 500, null), 0)).toBe("FAIL");
  });

  it("takes degrees of freedom that a file writes as null for infinitely many", () => {
    // 1.7 standard uncertainties inside: enough with a normal distribution, far from it with one degree of freedom.
    expect(status(48_300, 1_000, null)).toBe("PASS");
    expect(status(48_300, 1_000, 1)).toBe("INDETERMINATE");
  });

  it("passes in a bore that fits, and is not analysed without a clearance", () => {
    expect(status(50_000, 500, null, { ...bore, verdict: "fits" })).toBe("PASS");
    expect(stationStatus(under, bore, { ...station, clearanceNm: null, uncertaintyNm: null }, 0)).toBe("NOT_ANALYZED");
  });

  it("expects half of what an off-centre gauge may be short", () => {
    const at = stationOf(48_300, 1_000, null);
    expect(stationStatus(under, undecided, at, 0)).toBe("PASS");
    expect(stationStatus(under, undecided, at, 1_000)).toBe("INDETERMINATE");
  });
});

describe("the status of a bore and of the block", () => {
  const block = (...verdicts: Bore["verdict"][]) => ({
    ...result,
    complete: true,
    bores: verdicts.map((verdict) => ({ ...bore, verdict })),
  });

  it("is the bore's verdict in the standard's words", () => {
    const verdicts = ["fits", "too tight", "too loose", "undecided", "not measured"] as const;
    expect(verdicts.map((verdict) => boreStatus({ ...bore, verdict }))).toEqual([
      "PASS",
      "FAIL",
      "FAIL",
      "INDETERMINATE",
      "NOT_ANALYZED",
    ]);
  });

  it("passes the block only when every bore fits and the walk is complete", () => {
    expect(blockStatus(block("fits", "fits"))).toBe("PASS");
    expect(blockStatus({ ...block("fits", "fits"), complete: false })).toBe("UNKNOWN");
    expect(blockStatus(block("fits", "undecided"))).toBe("UNKNOWN");
    expect(blockStatus(block("fits", "not measured"))).toBe("UNKNOWN");
    expect(blockStatus(block("undecided", "too tight"))).toBe("FAIL");
    expect(blockStatus(block("not measured", "too loose"))).toBe("FAIL");
    expect(blockStatus(block("not measured", "not measured"))).toBe("NOT_MEASURED");
  });
});
