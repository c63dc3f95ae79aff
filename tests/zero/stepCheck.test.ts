import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import type { GaugeUnit } from "../../core/length/unit.ts";
import { judgeStep, stepToleranceNm } from "../../core/zero/stepCheck.ts";

const TENTH_THOU = 2540;
const STEP = 25_400;

function step(answerNm: number, openedNm = STEP, resolutionNm = 1270, unit: GaugeUnit = "in") {
  return judgeStep({
    beforeNm: toNm(-3810),
    afterNm: toNm(-3810 + answerNm),
    openedNm: toNm(openedNm),
    resolutionNm: toNm(resolutionNm),
    unit,
  });
}

describe("the step check", () => {
  it("passes the right answer, with an offer of nothing", () => {
    expect(step(STEP)).toMatchObject({ passed: true, answerNm: STEP, offer: null });
    expect(step(STEP + 2540)).toMatchObject({ passed: true, offer: null });
    expect(step(20_000, 20_000, 1000, "mm")).toMatchObject({ passed: true, offer: null });
    expect(step(STEP + 2 * TENTH_THOU).passed).toBe(false);
  });

  it("knows the wrong way", () => {
    const answer = step(-STEP);
    expect(answer).toMatchObject({ passed: false, offer: { flipPolarity: true } });
    expect(answer.text).toContain("wrong way");
    expect(step(-20_000, 20_000, 500, "mm").offer).toEqual({ flipPolarity: true });
  });

  it("knows inches from millimetres, both ways round, and with the wrong sign as well", () => {
    expect(step(STEP * 25.4).offer).toEqual({ unit: "mm" });
    expect(step(-STEP * 25.4).offer).toEqual({ unit: "mm", flipPolarity: true });
    expect(step(STEP / 25.4, STEP, 500, "mm").offer).toEqual({ unit: "in" });
    expect(step(STEP * 25.4).text).toContain("millimetres");
  });

  it("knows a gauge that does not answer, and one count of flicker is no answer in another unit", () => {
    for (const answer of [0, 1270, -1270]) {
      expect(step(answer)).toMatchObject({ passed: false, offer: null });
      expect(step(answer).text).toContain("hold");
    }
    expect(step(1000, 20_000, 1000, "mm")).toMatchObject({ passed: false, offer: null });
  });

  it("names the other unit on the display where inches read as millimetres would hardly move, and only there", () => {
    // 0.020 mm is 0.0008 in; read as millimetres that is one step of the display.
    const metric = step(1000, 20_000, 1000, "mm").text;
    expect(metric).toContain("hold function left on");
    expect(metric).toContain(
      "or the other unit chosen on the display (inches read as millimetres hardly move); then rock",
    );
    expect(step(1270).text).toContain("or the wrong gauge; then rock");
  });

  it("has a tolerance that others can state: the answer passes at it, and not 1 nm beyond", () => {
    for (const [openedNm, resolutionNm, allowedNm] of [
      [25_400, 1270, 4445],
      [127_000, 1270, 4445],
      [20_000, 1000, 4040],
      [5080, 1270, 2032],
    ] as const) {
      expect(stepToleranceNm(openedNm, resolutionNm)).toBe(allowedNm);
      expect(step(openedNm - allowedNm, openedNm, resolutionNm).passed).toBe(true);
      expect(step(openedNm - allowedNm - 1, openedNm, resolutionNm).passed).toBe(false);
    }
  });

  it("gives a gain from a step of 0.005 in and more, and from no smaller one", () => {
    const large = step(120_000, 127_000);
    expect(large.passed).toBe(false);
    expect(large.offer?.gain).toBeCloseTo(127 / 120, 9);
    const slight = step(125_000, 127_000, 500);
    expect(slight.passed).toBe(true);
    expect(slight.offer?.gain).toBeCloseTo(127 / 125, 9);
    expect(step(127_000, 127_000)).toMatchObject({ passed: true, offer: null });
    expect(step(19_000)).toMatchObject({ passed: false, offer: null });
  });

  it("says so when nothing fits", () => {
    expect(step(60_000).text).toContain("neither");
    expect(step(60_000).offer).toBeNull();
  });

  it("refuses a step that is no step", () => {
    expect(() => step(0, 0)).toThrow(RangeError);
  });

  it("accepting the turn of polarity turns a wrong answer into the right one, and twice changes nothing", () => {
    fc.assert(
      fc.property(fc.integer({ min: -3000, max: 3000 }), fc.constantFrom(500, 1270), (error, resolution) => {
        const wrong = step(-(STEP + error), STEP, resolution);
        if (wrong.offer?.flipPolarity !== true) return;
        expect(step(STEP + error, STEP, resolution).passed).toBe(true);
        expect(step(-(STEP + error), STEP, resolution)).toEqual(wrong);
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  it("where readings begin does not matter", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e6, max: 1e6 }), fc.integer({ min: -7e5, max: 7e5 }), (beforeNm, answerNm) => {
        const shared = { openedNm: toNm(STEP), resolutionNm: toNm(1270), unit: "in" as const };
        const here = judgeStep({ ...shared, beforeNm: toNm(beforeNm), afterNm: toNm(beforeNm + answerNm) });
        expect(here).toEqual(judgeStep({ ...shared, beforeNm: toNm(0), afterNm: toNm(answerNm) }));
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});
