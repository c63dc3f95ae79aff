import { describe, expect, it } from "vitest";
import { combine, coverageFactor, effectiveDegreesOfFreedom, evaluateModel } from "../../core/fit/gum.ts";

const exact = Number.POSITIVE_INFINITY;
const line = (u: number, degreesOfFreedom = exact, sensitivity = 1) => ({
  name: "feel",
  u,
  degreesOfFreedom,
  sensitivity,
});

describe("combining uncertainties", () => {
  it("adds squares, weighs by the size of the sensitivity, and knows nothing of its sign", () => {
    const found = combine([line(3), line(2, exact, -2)]);
    expect(found.contributions).toEqual([3, 4]);
    expect(found.combined).toBe(5);
    expect(found.degreesOfFreedom).toBe(exact);
    expect(found.coverage).toBe(0.95);
    expect(found.factor).toBeCloseTo(1.959964, 6);
    expect(found.expanded).toBeCloseTo(5 * 1.959964, 5);
  });

  it("of nothing is nothing, known exactly", () => {
    expect(combine([])).toMatchObject({ contributions: [], combined: 0, degreesOfFreedom: exact, expanded: 0 });
    expect(combine([line(0, 3)])).toMatchObject({ combined: 0, degreesOfFreedom: exact, expanded: 0 });
  });

  it("takes the degrees of freedom of the one line there is", () => {
    expect(combine([line(2, 7)]).degreesOfFreedom).toBeCloseTo(7, 12);
    expect(combine([line(2, 7)]).factor).toBeCloseTo(coverageFactor(0.95, 7), 12);
    expect(effectiveDegreesOfFreedom([2, 2], [7])).toBeCloseTo(28, 12);
  });

  it("covers as much as it is asked to", () => {
    const found = combine([line(1, 5)], { coverage: 0.99 });
    expect(found.coverage).toBe(0.99);
    expect(found.expanded).toBeCloseTo(4.03, 2);
  });

  it("cuts degrees of freedom to whole ones only when asked, and none below one away", () => {
    const two = [line(1, 3), line(0.4, 3)];
    expect(combine(two).degreesOfFreedom).toBeCloseTo(3.936, 3);
    expect(combine(two, { wholeDegrees: true }).degreesOfFreedom).toBe(3);
    expect(combine([line(1, 0.5)], { wholeDegrees: true }).degreesOfFreedom).toBe(0.5);
    expect(combine([line(1, 1)], { wholeDegrees: true }).degreesOfFreedom).toBe(1);
    expect(combine([line(1)], { wholeDegrees: true }).degreesOfFreedom).toBe(exact);
    expect(combine([line(1)], { wholeDegrees: true }).factor).toBeCloseTo(1.959964, 6);
  });

  it.each([
    ["a negative uncertainty", line(-1), "u -1 with Infinity degrees of freedom and sensitivity 1"],
    ["one that is no number", line(Number.NaN), "u NaN"],
    ["an infinite one", line(exact), "u Infinity"],
    ["an infinite sensitivity", line(1, 5, exact), "sensitivity Infinity"],
    ["no degrees of freedom", line(1, 0), "with 0 degrees of freedom"],
  ])("refuses %s and names the line", (_, wrong, found) => {
    expect(() => combine([line(1), wrong])).toThrow(RangeError);
    expect(() => combine([wrong])).toThrow('budget line "feel"');
    expect(() => combine([wrong])).toThrow(found);
    expect(() => combine([wrong])).toThrow("expected u of 0 or more, finite, and degrees of freedom above 0");
  });
});

describe("a model at its estimates", () => {
  it("is as sensitive to an input as its slope there: x·y at (3, 4)", () => {
    const inputs = [
      { name: "x", value: 3, u: 0.1, degreesOfFreedom: exact },
      { name: "y", value: 4, u: 0.2, degreesOfFreedom: exact },
    ];
    const found = evaluateModel(([x = 0, y = 0]) => x * y, inputs);
    expect(found.value).toBe(12);
    expect(found.contributions[0]).toBeCloseTo(0.4, 12);
    expect(found.contributions[1]).toBeCloseTo(0.6, 12);
    expect(found.combined).toBeCloseTo(Math.hypot(0.4, 0.6), 12);
    const certain = evaluateModel(
      ([x = 0, y = 0]) => x * y,
      [inputs[0] as (typeof inputs)[0], { ...inputs[1], u: 0 } as (typeof inputs)[0]],
    );
    expect(certain.contributions).toEqual([expect.closeTo(0.4, 12), 0]);
  });

  it("passes on what it is asked to cover", () => {
    const inputs = [{ name: "x", value: 0, u: 1, degreesOfFreedom: 5 }];
    expect(evaluateModel(([x = 0]) => x, inputs, { coverage: 0.99 }).expanded).toBeCloseTo(4.03, 2);
  });
});
