import { describe, expect, it } from "vitest";
import { extremesOf, judge } from "../../core/fit/verdict.ts";
import { toNm } from "../../core/length/nm.ts";

const limits = { lowNm: toNm(33_020), highNm: toNm(48_260) };
const exact = Number.POSITIVE_INFINITY;
const at = (value: number, u = 1000, degreesOfFreedom = exact) => ({ clearanceNm: value, value, u, degreesOfFreedom });

describe("a station between the smallest and the largest that is known worse", () => {
  it("counts with what it may really be", () => {
    const limits = { lowNm: toNm(33_000), highNm: toNm(48_000) };
    const of = (value: number, u: number) => ({ clearanceNm: value, value, u, degreesOfFreedom: 1e6 });
    expect(judge([of(45_100, 300), of(40_000, 300)], limits, "guarded").verdict).toBe("fits");
    const found = judge([of(45_100, 300), of(45_000, 2_470), of(40_000, 300)], limits, "guarded");
    expect(found.verdict).toBe("undecided");
    // One-sided normal tail beyond 3000/2470 = 1.2146 standard deviations.
    expect(found.tooLoose).toBeCloseTo(0.1122, 3);
  });

  it("is asked for: a bore without stations has no verdict", () => {
    expect(() => judge([], { lowNm: toNm(33_000), highNm: toNm(48_000) }, "guarded")).toThrow(RangeError);
  });
});

describe("extremes of a bore", () => {
  it("are its smallest and its largest station, the same one twice where there is one, none without any", () => {
    const [a, b, c] = [at(40_000), at(38_000), at(42_000)];
    expect(extremesOf([a, b, c])).toEqual({ smallest: b, largest: c });
    expect(extremesOf([c, a, b])).toEqual({ smallest: b, largest: c });
    expect(extremesOf([a])).toEqual({ smallest: a, largest: a });
    expect(extremesOf([])).toBeNull();
  });

  it("of equal clearances are the first and the last in the order of the stations", () => {
    const [first, middle, last] = [at(40_000, 1), at(40_000, 2), at(40_000, 3)];
    expect(extremesOf([first, middle, last])).toEqual({ smallest: first, largest: last });
  });
});

describe("simple rule", () => {
  it.each([
    [33_020, 48_260, "fits"],
    [33_019, 48_260, "too tight"],
    [33_020, 48_261, "too loose"],
    [20_000, 60_000, "too loose"],
  ])("%d to %d nm: %s, limits included", (smallest, largest, verdict) => {
    expect(judge([at(smallest), at(largest)], limits, "simple").verdict).toBe(verdict);
  });

  it("states its confidence all the same", () => {
    const found = judge([at(48_260)], limits, "simple");
    expect(found.verdict).toBe("fits");
    expect(found.confidence).toBeCloseTo(0.5, 6);
  });
});

describe("guarded rule", () => {
  it("needs both the smallest and the largest inside, and adds their risks", () => {
    const low = at(33_020 + 1750);
    const high = at(48_260 - 1750);
    expect(judge([low], limits, "guarded")).toMatchObject({ verdict: "fits" });
    expect(judge([high], limits, "guarded")).toMatchObject({ verdict: "fits" });
    const both = judge([low, high], limits, "guarded");
    expect(both.verdict).toBe("undecided");
    expect(both.inside).toBeCloseTo(1 - both.tooTight - both.tooLoose, 12);
  });

  it("is more careful with few degrees of freedom", () => {
    const few = judge([at(46_500, 1000, 4)], limits, "guarded");
    expect(few.verdict).toBe("undecided");
    expect(judge([at(46_500)], limits, "guarded").verdict).toBe("fits");
  });

  it("says so at 95 % exactly, and calls a bore that is both too tight and too loose too loose", () => {
    // Nothing uncertain makes probabilities of 0 and 1; a bell-mouthed bore is beyond both ends of the band.
    expect(judge([at(33_019, 0), at(48_261, 0)], limits, "guarded")).toMatchObject({
      verdict: "too loose",
      tooTight: 1,
      tooLoose: 1,
      inside: 0,
      confidence: 1,
    });
    expect(judge([at(20_000), at(60_000)], limits, "guarded").verdict).toBe("too loose");
    expect(judge([at(20_000), at(40_000)], limits, "guarded")).toMatchObject({
      verdict: "too tight",
      tooLoose: expect.closeTo(0, 6),
      confidence: expect.closeTo(1, 6),
    });
    const loose = judge([at(40_000), at(50_000)], limits, "guarded");
    expect(loose.verdict).toBe("too loose");
    expect(loose.confidence).toBe(loose.tooLoose);
  });

  it("states the probability of what it says", () => {
    expect(judge([at(31_000), at(40_000)], limits, "guarded").confidence).toBeGreaterThan(0.97);
    const undecided = judge([at(48_260)], limits, "guarded");
    expect(undecided.confidence).toBeCloseTo(undecided.inside, 12);
  });

  it("compares values when nothing is uncertain", () => {
    expect(judge([at(33_020, 0), at(48_260, 0)], limits, "guarded").verdict).toBe("fits");
    expect(judge([at(33_019, 0), at(48_260, 0)], limits, "guarded").verdict).toBe("too tight");
  });
});
