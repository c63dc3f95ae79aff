import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Nm } from "../../core/length/nm.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { recentSweeps } from "../../renderer/trace/recentSweeps.ts";
import { awayStretches, traceRange } from "../../renderer/trace/traceRange.ts";

const WORKING = { lowNm: -60_000, highNm: 340_000 };
const rocking = Array.from({ length: 200 }, (_, k) => 36_000 + 80_000 * Math.sin(k / 4) ** 2);

describe("range of the trace", () => {
  test("a gauge withdrawn by a millimetre does not squash the picture", () => {
    const alone = traceRange(rocking, WORKING, null);
    const withdrawn = traceRange([...rocking, ...Array(100).fill(1_000_000)], WORKING, null);
    expect(withdrawn).toEqual(alone);
    expect(alone.lowNm).toBeLessThan(36_000);
    expect(alone.highNm - alone.lowNm).toBeLessThan(160_001);
  });

  test("the foot of every sweep is in the picture, whatever the tops do", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -60_000, max: 340_000 }), { minLength: 1, maxLength: 300 }),
        fc.boolean(),
        (values, again) => {
          const first = traceRange(values, WORKING, null);
          const range = again ? traceRange(values, WORKING, first) : first;
          const foot = Math.min(...values);
          expect(range.lowNm).toBeLessThan(foot);
          expect(range.highNm).toBeGreaterThan(foot);
          expect(range.highNm - range.lowNm).toBeGreaterThanOrEqual(40_000);
          expect(range.highNm - range.lowNm).toBeLessThanOrEqual(160_000);
        },
      ),
      { seed: 20_26 },
    );
  });

  test("the picture stands still while it still serves", () => {
    const before = traceRange(rocking, WORKING, null);
    expect(
      traceRange(
        rocking.map((nm) => nm + 3_000),
        WORKING,
        before,
      ),
    ).toBe(before);
    expect(
      traceRange(
        rocking.map((nm) => nm - 30_000),
        WORKING,
        before,
      ),
    ).not.toBe(before);
  });

  test("without a reading in range it stays, or begins at the foot of the working range", () => {
    expect(traceRange([1_000_000], WORKING, null).lowNm).toBe(WORKING.lowNm);
    const before = { lowNm: 1, highNm: 2 };
    expect(traceRange([1_000_000], WORKING, before)).toBe(before);
  });
});

describe("stretches out of the bore", () => {
  const at = (tMs: number, valueNm: number | null) => ({ tMs, valueNm });
  test("each is one stretch from its first to its last reading; lines not understood do not end it", () => {
    const samples = [at(0, 0), at(50, 900_000), at(100, null), at(150, 950_000), at(200, 10), at(250, 900_000)];
    expect(awayStretches(samples, WORKING)).toEqual([
      { fromMs: 50, toMs: 150 },
      { fromMs: 250, toMs: 250 },
    ]);
    expect(awayStretches(samples, null)).toEqual([]);
  });
});

describe("sweeps marked on the trace", () => {
  const sweep = (tMs: number, use: Sweep["use"]): Sweep => ({
    tMs,
    rawMinNm: 0 as Nm,
    turningPointNm: 0 as Nm,
    samples: 7,
    method: "rhythm",
    use,
  });
  test("the open station knows better what became of a sweep than the outcome that told of it", () => {
    const marked = recentSweeps([sweep(1, "kept"), sweep(2, "kept")], [sweep(2, "struck"), sweep(3, "kept")]);
    expect(marked.map(({ tMs, use }) => [tMs, use])).toEqual([
      [1, "kept"],
      [2, "struck"],
      [3, "kept"],
    ]);
  });
});
