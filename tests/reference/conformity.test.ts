import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { describe, expect, it } from "vitest";
import { probabilityAbove, probabilityBelow, probabilityInside } from "../../core/fit/odds.ts";
import { judge } from "../../core/fit/verdict.ts";
import { toNm } from "../../core/length/nm.ts";

const exact = Number.POSITIVE_INFINITY;

describe("conformity: JCGM 106:2012 and ISO 14253-1", () => {
  it("Zener diode, one upper limit: 0.92 (memory, recomputed 0.919243)", () => {
    const breakdown = { value: -5.47, u: 0.05, degreesOfFreedom: exact };
    expect(1 - probabilityAbove(breakdown, -5.4)).toBeCloseTo(0.919243, 6);
  });

  it("motor oil, two limits: 0.66 (memory, recomputed 0.662630)", () => {
    expect(probabilityInside({ value: 13.6, u: 1.8, degreesOfFreedom: exact }, 12.5, 16.3)).toBeCloseTo(0.66263, 6);
  });

  it("one-sided factors 1.644854 at 0.95 and 2.326348 at 0.99 (read)", () => {
    expect(normalQuantile(0.95, 0, 1)).toBeCloseTo(1.644854, 6);
    expect(normalQuantile(0.99, 0, 1)).toBeCloseTo(2.326348, 6);
    expect(probabilityBelow({ value: 0, u: 1, degreesOfFreedom: exact }, -1.644854)).toBeCloseTo(0.05, 7);
  });

  it("guard of 1.65·u at 95 % where u is small beside the band (ISO 14253-1:2017, read at second hand)", () => {
    const limits = { lowNm: toNm(33_020), highNm: toNm(48_260) };
    const at = (value: number) => {
      const measured = { clearanceNm: value, value, u: 500, degreesOfFreedom: exact };
      return judge([measured], limits, "guarded").verdict;
    };
    expect(at(48_260 - 1.65 * 500)).toBe("fits");
    expect(at(48_260 - 1.64 * 500)).toBe("undecided");
    expect(at(48_260 + 1.65 * 500)).toBe("too loose");
    expect(at(33_020 - 1.65 * 500)).toBe("too tight");
  });

  it("with a band of 3 u no value fits, though 1.65·u from the nearer limit is possible (derived)", () => {
    const limits = { lowNm: toNm(0), highNm: toNm(3400) };
    const measured = { clearanceNm: 1700, value: 1700, u: 1000, degreesOfFreedom: exact };
    expect(judge([measured], limits, "guarded").verdict).toBe("undecided");
  });
});
