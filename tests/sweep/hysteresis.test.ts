import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { Hysteresis } from "../../core/sweep/hysteresis.ts";

/** Feeds readings whose changes from one to the next follow `change`; 34 readings make one block of 32 bends. */
function feed(hysteresis: Hysteresis, readings: number, change: (i: number) => number): void {
  let value = 0;
  for (let i = 0; i < readings; i += 1) {
    hysteresis.watch(value);
    value += change(i);
  }
}

/** Changes of a reading that jumps up and down by `nm`: noise of nm/√2, and nothing moves. */
const tremor = (nm: number) => (i: number) => (i % 2 === 0 ? nm : -nm);
const SPAN = 7;

describe("how far a reading must come back to have turned", () => {
  it.each([
    [127, 3000],
    [1000, 3000],
    [1001, 3003],
    [1270, 3810],
    [12_700, 38_100],
  ])("is three steps of a display of %i nm, and never below 3 µm: %i nm", (step, expected) => {
    expect(new Hysteresis(toNm(step)).thresholdNm).toBe(expected);
  });

  it("is 15 % of a sweep's lower side while rocking, and falls back when it is over", () => {
    const hysteresis = new Hysteresis(toNm(1270));
    hysteresis.swept(100_000);
    expect(hysteresis.thresholdNm).toBe(15_000);
    hysteresis.swept(40_000);
    expect(hysteresis.thresholdNm).toBe(6000);
    hysteresis.swept(20_000);
    expect(hysteresis.thresholdNm).toBe(3810);
    hysteresis.swept(100_000);
    hysteresis.calm();
    expect(hysteresis.thresholdNm).toBe(3810);
  });
});

describe("a noisy gauge", () => {
  it("is known after a block of 32 bends, and then turns by seven of its standard deviations", () => {
    const hysteresis = new Hysteresis(toNm(500));
    feed(hysteresis, 33, tremor(1000));
    expect(hysteresis.thresholdNm).toBe(3000);
    feed(hysteresis, 1, tremor(1000));
    const again = new Hysteresis(toNm(500));
    feed(again, 34, tremor(1000));
    expect(again.thresholdNm).toBeCloseTo((SPAN * 1000) / Math.SQRT2, 6);
  });

  it("of up to 1.8 µm is noise; more is movement that the display can not follow", () => {
    const noisy = new Hysteresis(toNm(500));
    feed(noisy, 34, tremor(1800 * Math.SQRT2 - 0.01));
    expect(noisy.thresholdNm).toBeCloseTo(SPAN * 1800, 0);
    const moving = new Hysteresis(toNm(500));
    feed(moving, 34, tremor(1800 * Math.SQRT2 + 0.01));
    expect(moving.thresholdNm).toBe(3000);
  });

  it("is told from a rocking by its bends: 2.3 times the squares of its changes, 1.4 for 1 Hz ten times a second", () => {
    // For changes of cos(ωi) the bends have 2 − 2·cos ω times the squares.
    const wave = (ratio: number) => {
      const omega = Math.acos(1 - ratio / 2);
      const hysteresis = new Hysteresis(toNm(500));
      feed(hysteresis, 34, (i) => 2000 * Math.cos(omega * (i - 17)));
      return hysteresis.thresholdNm;
    };
    for (const ratio of [0.1, 1.4, 2, 2.2]) expect(wave(ratio), `${ratio}`).toBe(3000);
    for (const ratio of [2.4, 3, 3.9]) expect(wave(ratio), `${ratio}`).toBeGreaterThan(5000);
  });

  it("is judged anew in every block: once it is quiet, a small rocking counts again", () => {
    const hysteresis = new Hysteresis(toNm(500));
    feed(hysteresis, 34, tremor(1000));
    feed(hysteresis, 80, tremor(10));
    expect(hysteresis.thresholdNm).toBe(3000);
  });

  it("raises the bar of a rocking that is low, leaves that of a high one, and counts when it is over", () => {
    const low = new Hysteresis(toNm(500));
    low.swept(22_000);
    expect(low.thresholdNm).toBe(3300);
    feed(low, 34, tremor(1000));
    expect(low.thresholdNm).toBeCloseTo(4949.7, 1);

    const high = new Hysteresis(toNm(500));
    high.swept(100_000);
    feed(high, 34, tremor(1000));
    expect(high.thresholdNm).toBe(15_000);
    high.swept(10_000);
    expect(high.thresholdNm).toBeCloseTo(4949.7, 1);
    high.swept(100_000);
    high.calm();
    expect(high.thresholdNm).toBeCloseTo(4949.7, 1);
  });

  it("is not made of what lies on both sides of a gap", () => {
    const hysteresis = new Hysteresis(toNm(500));
    feed(hysteresis, 33, tremor(1000));
    hysteresis.apart();
    feed(hysteresis, 33, tremor(1000));
    expect(hysteresis.thresholdNm).toBe(3000);
    // A step across a gap is no noise either.
    const stepped = new Hysteresis(toNm(500));
    feed(stepped, 34, tremor(100));
    stepped.apart();
    let value = 5000;
    for (let i = 0; i < 34; i += 1) {
      stepped.watch(value);
      value += tremor(100)(i);
    }
    expect(stepped.thresholdNm).toBe(3000);
  });
});
