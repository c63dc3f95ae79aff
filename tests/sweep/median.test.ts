import { describe, expect, it } from "vitest";
import { median } from "../../core/sweep/median.ts";

describe("the middle one of a list", () => {
  it("is the middle by size, not as written, and the list stays as it was", () => {
    const values = [100, 9, -20, 30, 8];
    expect(median(values)).toBe(9);
    expect(values).toEqual([100, 9, -20, 30, 8]);
  });

  it("is the mean of the middle two where there are two, and no number where there is none", () => {
    expect(median([7, -2, 4, 100])).toBe(5.5);
    expect(median([3])).toBe(3);
    expect(median([])).toBeNaN();
  });
});
