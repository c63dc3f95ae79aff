import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { judgeReferences } from "../../core/zero/judgeReferences.ts";
import type { Reference } from "../../core/zero/reference.ts";
import { zeroAt } from "../../core/zero/zeroAt.ts";

const HOLD = toNm(2540);

function reference(tMs: number, nm: number, kind: "zero" | "return" = "return"): Reference {
  return { tMs, valueNm: toNm(nm), spreadNm: toNm(500), sweeps: [], kind, lifter: "1I" };
}

describe("whether the zero held", () => {
  it("compares a return with the one before it, the limit included", () => {
    const judged = judgeReferences(
      [reference(0, -3810, "zero"), reference(100, -1270), reference(200, 1271), reference(300, 1000)],
      HOLD,
    );
    expect(judged.map(({ returnNm, held }) => [returnNm, held])).toEqual([
      [0, true],
      [2540, true],
      [2541, false],
      [-271, true],
    ]);
  });

  it("lets a new zero hold whatever came before, and a return with nothing before it", () => {
    const judged = judgeReferences([reference(0, 5000), reference(1, 90_000, "zero")], HOLD);
    expect(judged.map(({ returnNm, held }) => [returnNm, held])).toEqual([
      [0, true],
      [0, true],
    ]);
    expect(judgeReferences([], HOLD)).toEqual([]);
  });
});

describe("the zero used for a station", () => {
  const judged = () =>
    judgeReferences(
      [
        reference(1000, 0, "zero"),
        reference(2000, 1000),
        reference(3000, 9000),
        reference(4000, 9500),
        reference(5000, 0, "zero"),
      ],
      HOLD,
    );

  it("is none before the first", () => {
    expect(zeroAt(judged(), 999)).toEqual({ state: "none" });
    expect(zeroAt([], 5)).toEqual({ state: "none" });
  });

  it("goes linearly with time between two that held, and the drift is the size of the return", () => {
    expect(zeroAt(judged(), 1250)).toMatchObject({ state: "held", valueNm: 250, driftNm: 1000 });
    expect(zeroAt(judged(), 1000)).toMatchObject({ state: "held", valueNm: 0 });
    expect(zeroAt(judged(), 3500)).toMatchObject({ state: "held", valueNm: 9250, driftNm: 500 });
  });

  it("has moved when the next check did not hold", () => {
    expect(zeroAt(judged(), 2500)).toMatchObject({ state: "moved", from: 1000, to: 9000 });
  });

  it("is unchecked after the last, and before a new zero", () => {
    expect(zeroAt(judged(), 4500)).toMatchObject({ state: "unchecked", valueNm: 9500, driftNm: 0, after: null });
    expect(zeroAt(judged(), 9999)).toMatchObject({ state: "unchecked", valueNm: 0 });
  });

  it("is that of the later one where two closed at one moment", () => {
    const together = judgeReferences([reference(1000, 0, "zero"), reference(1000, 400), reference(2000, 900)], HOLD);
    expect(zeroAt(together, 1000)).toMatchObject({ state: "held", valueNm: 400, driftNm: 500 });
    expect(zeroAt(together, 1500)).toMatchObject({ state: "held", valueNm: 650, driftNm: 500 });
  });

  it("lies between the two references, and shifts with them", () => {
    const times = fc.tuple(fc.integer({ min: 0, max: 1e6 }), fc.integer({ min: 1, max: 1e6 }), fc.nat(1e6));
    const values = fc.tuple(fc.integer({ min: -1e5, max: 1e5 }), fc.integer({ min: -2540, max: 2540 }));
    fc.assert(
      fc.property(times, values, fc.integer({ min: -1e6, max: 1e6 }), ([start, span, at], [first, drift], by) => {
        const tMs = start + (at % span);
        const pair = (shift: number) =>
          judgeReferences(
            [reference(start, first + shift, "zero"), reference(start + span, first + drift + shift)],
            HOLD,
          );
        const zero = zeroAt(pair(0), tMs);
        const shifted = zeroAt(pair(by), tMs);
        if (zero.state !== "held" || shifted.state !== "held") throw new Error("both must hold");
        expect(zero.valueNm).toBeGreaterThanOrEqual(Math.min(first, first + drift) - 1e-6);
        expect(zero.valueNm).toBeLessThanOrEqual(Math.max(first, first + drift) + 1e-6);
        expect(shifted.valueNm - zero.valueNm).toBeCloseTo(by, 6);
        expect(shifted.driftNm).toBe(zero.driftNm);
      }),
      { seed: 31, numRuns: 200 },
    );
  });
});
