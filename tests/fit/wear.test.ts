import { describe, expect, it } from "vitest";
import type { Verdict } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { wearOf } from "../../core/fit/wear.ts";
import { toNm } from "../../core/length/nm.ts";

const limits = { ...SHIPPED_LIMITS.flat, serviceHighNm: toNm(63_500) };
const measured = (clearanceNm: number, u = 1000) => ({
  clearanceNm,
  value: clearanceNm,
  u,
  degreesOfFreedom: Number.POSITIVE_INFINITY,
});

describe("a loose bore against the wear limit of a used block", () => {
  it("is inside it, beyond it, or too near to say, each at 95 %", () => {
    const at = (clearanceNm: number) => wearOf("too loose", measured(clearanceNm), limits);
    expect(at(50_800)).toBe(
      "0.00200 in at the loosest station: beyond the limits for a new fit, still inside the wear limit of 0.00250 in for a used block.",
    );
    expect(at(76_200)).toBe("0.00300 in at the loosest station: beyond the wear limit of 0.00250 in for a used block.");
    expect(at(63_500)).toBe(
      "0.00250 in at the loosest station: too near the wear limit of 0.00250 in for a used block to say on which side it is.",
    );
    // One-sided 95 % is 1.645 standard uncertainties from the limit.
    expect(at(63_500 - 1640)).toContain("too near");
    expect(at(63_500 - 1650)).toContain("still inside");
    expect(at(63_500 + 1640)).toContain("too near");
    expect(at(63_500 + 1650)).toContain("beyond the wear limit");
  });

  it("with nothing uncertain lies on one side, the limit itself inside", () => {
    expect(wearOf("too loose", measured(63_500, 0), limits)).toContain("still inside");
    expect(wearOf("too loose", measured(63_501, 0), limits)).toContain("0.00250 in at the loosest station: beyond");
  });

  it("is a question for every bore called too loose, also where only its best estimate is beyond the limit", () => {
    expect(wearOf("too loose", measured(48_260), limits)).toContain("still inside");
  });

  it("is no question for a bore that is not loose, or where the limits carry none", () => {
    for (const verdict of ["fits", "too tight", "not measured"] satisfies Verdict[]) {
      expect(wearOf(verdict, measured(50_800), limits)).toBeNull();
    }
    expect(wearOf("too loose", measured(50_800), SHIPPED_LIMITS.flat)).toBeNull();
  });

  it("of an undecided bore is a question once its largest clearance is beyond the limit for a new fit", () => {
    expect(wearOf("undecided", measured(48_260), limits)).toBeNull();
    expect(wearOf("undecided", measured(48_261), limits)).toContain("still inside");
  });
});
