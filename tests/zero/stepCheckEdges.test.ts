import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { judgeStep } from "../../core/zero/stepCheck.ts";

/** A step of 0.001 in; a hand sets each end of it to half of 0.0001 in, 1270 nm (common practice, no source). */
const STEP = 25_400;

function answer(answerNm: number, { openedNm = STEP, resolutionNm = 1270, unit = "in" as GaugeUnit } = {}) {
  return judgeStep({
    beforeNm: toNm(500),
    afterNm: toNm(500 + answerNm),
    openedNm: toNm(openedNm),
    resolutionNm: toNm(resolutionNm),
    unit,
  });
}

describe("how far an answer may be from the step", () => {
  it.each([
    [1270, 2540 + 1905],
    [500, 2540 + 750],
    [100, 2540 + 150],
  ])("both settings and the rounding of both readings: a display of %d nm allows %d nm, included", (q, allowed) => {
    const resolutionNm = { resolutionNm: q };
    expect(answer(STEP + allowed, resolutionNm).passed).toBe(true);
    expect(answer(STEP - allowed, resolutionNm).passed).toBe(true);
    expect(answer(STEP + allowed + 1, resolutionNm).passed).toBe(false);
    expect(answer(STEP - allowed - 1, resolutionNm).passed).toBe(false);
    expect(answer(-STEP - allowed, resolutionNm).offer).toEqual({ flipPolarity: true });
    expect(answer(-STEP - allowed - 1, resolutionNm).offer).toBeNull();
  });

  it("but never more than two fifths of a small step, or a gauge that stood still would pass", () => {
    const small = { openedNm: 2540 };
    expect(answer(2540 + 1016, small).passed).toBe(true);
    expect(answer(2540 + 1017, small).passed).toBe(false);
    expect(answer(2540 - 1017, small).passed).toBe(false);
  });
});

describe("inches taken for millimetres, or the other way round", () => {
  it("are 25.4 times off, and so is what the hand's setting makes of it", () => {
    // 25.4 · 25 400 nm, and 25.4 · 2540 nm for the setting, and the rounding that does not grow with it.
    expect(answer(645_160 + 64_516 + 1905).offer).toEqual({ unit: "mm" });
    expect(answer(645_160 - 64_516 - 1905).offer).toEqual({ unit: "mm" });
    expect(answer(645_160 + 64_516 + 1906).offer).toBeNull();
    const metric = { resolutionNm: 100, unit: "mm" as const };
    expect(answer(1000 + 100 + 150, metric).offer).toEqual({ unit: "in" });
    expect(answer(1000 - 100 - 150, metric).offer).toEqual({ unit: "in" });
    expect(answer(1000 + 100 + 151, metric).offer).toBeNull();
  });

  it("and are told by no more than two fifths of what they would show", () => {
    expect(answer(64_516 + 25_806, { openedNm: 2540 }).offer).toEqual({ unit: "mm" });
    expect(answer(64_516 + 25_807, { openedNm: 2540 }).offer).toBeNull();
    const coarse = { resolutionNm: 400, unit: "mm" as const };
    expect(answer(1400, coarse).offer).toEqual({ unit: "in" });
    expect(answer(1401, coarse).offer).toBeNull();
  });

  it("cannot be told where the display is coarser than three fifths of what it would show", () => {
    expect(answer(1000, { resolutionNm: 600, unit: "mm" }).offer).toEqual({ unit: "in" });
    expect(answer(1000, { resolutionNm: 601, unit: "mm" }).offer).toBeNull();
  });

  it("are said in words, with how many times, and whether the sign is wrong as well", () => {
    const inch = answer(STEP * 25.4);
    expect(inch.passed).toBe(false);
    expect(inch.text).toBe(
      "The gauge answered 0.02540 in to a step of 0.00100 in, 25.4 times too much: it sends millimetres and is read as inches. Change the unit here or on the gauge.",
    );
    const metric = answer(-1000, { resolutionNm: 500, unit: "mm" });
    expect(metric.passed).toBe(false);
    expect(metric.text).toBe(
      "The gauge answered -0.0010 mm to a step of 0.0254 mm, 25.4 times too little: it sends inches and is read as millimetres. It also went the wrong way. Change the unit here or on the gauge.",
    );
  });
});

describe("a gauge that does not answer", () => {
  it("changes by no more than two counts of a coarse display, or half of what is allowed on a fine one", () => {
    expect(answer(2540).text).toContain("did not answer a step of 0.00100 in (it changed by 0.00010 in)");
    expect(answer(-2540).text).toContain("did not answer");
    expect(answer(2541).text).toContain("neither");
    expect(answer(1345, { resolutionNm: 100 }).text).toContain("did not answer");
    expect(answer(1346, { resolutionNm: 100 }).text).toContain("neither");
  });
});

describe("gain", () => {
  const large = { openedNm: 127_000, resolutionNm: 500 };

  it("is offered beside a right answer only where the setting of one end does not explain the rest", () => {
    expect(answer(127_000 + 1520, large).offer).toBeNull();
    expect(answer(127_000 - 1520, large).offer).toBeNull();
    expect(answer(127_000 + 1521, large).offer?.gain).toBeCloseTo(127_000 / 128_521, 12);
    expect(answer(127_000 - 1521, large).text).toBe(
      "The gauge answered 0.00494 in to a step of 0.00500 in: right way and right unit. Its gain would be 1.0121; take it if the step was set with care.",
    );
  });

  it("comes from no step below 0.005 in", () => {
    expect(answer(120_000, { openedNm: 126_999 }).offer).toBeNull();
    expect(answer(120_000, { openedNm: 127_000 }).offer?.gain).toBeCloseTo(127 / 120, 12);
    expect(answer(120_000, { openedNm: 127_000 }).text).toContain(
      "right way, but the wrong amount. Its gain would be 1.0583",
    );
  });

  it("further than a quarter from 1 is none: something else is wrong", () => {
    expect(answer(101_600, { openedNm: 127_000 }).offer).toEqual({ gain: 1.25 });
    expect(answer(101_599, { openedNm: 127_000 }).offer).toBeNull();
    expect(answer(169_600, { openedNm: 127_200 }).offer).toEqual({ gain: 0.75 });
    expect(answer(169_601, { openedNm: 127_200 }).offer).toBeNull();
    expect(answer(-100_000, { openedNm: 127_000 }).offer).toBeNull();
  });
});

describe("what the person reads", () => {
  it("is in the gauge's unit, to its fifth decimal in inches and its fourth in millimetres", () => {
    expect(answer(STEP).text).toBe(
      "The gauge answered 0.00100 in to a step of 0.00100 in: right way, right unit, no hold.",
    );
    expect(answer(20_100, { openedNm: 20_000, unit: "mm" }).text).toContain("0.0201 mm to a step of 0.0200 mm");
  });

  it("names the length that is no step", () => {
    expect(() => answer(0, { openedNm: 0 })).toThrow("the step must be a positive length, found 0 nm");
    expect(() => answer(0, { openedNm: -2540 })).toThrow("found -2540 nm");
    expect(() => answer(0, { openedNm: 1 })).not.toThrow();
  });
});
