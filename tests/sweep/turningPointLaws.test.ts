import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Nm, toNm } from "../../core/length/nm.ts";
import type { Pass, Sample } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { anyRocking, Chance } from "./rocking.ts";
import { passesOf } from "./stationError.ts";

const seeded = { seed: 1969, numRuns: 60 };

describe("laws of turning points", () => {
  const rockings = fc.record({
    seed: fc.integer({ min: 1, max: 1e9 }),
    perSecond: fc.integer({ min: 10, max: 50 }),
    count: fc.integer({ min: 1, max: 14 }),
  });
  const passesFrom = ({ seed, perSecond, count }: { seed: number; perSecond: number; count: number }) => {
    const chance = new Chance(seed);
    const rocking = anyRocking(chance, perSecond, "turns", "stamp");
    return { passes: passesOf(rocking, chance, count), resolutionNm: rocking.resolutionNm as Nm };
  };

  it("the smallest reading is one of the pass's readings and none is below it", () => {
    fc.assert(
      fc.property(rockings, (from) => {
        const { passes, resolutionNm } = passesFrom(from);
        const points = turningPoints(passes, resolutionNm);
        expect(points.length).toBe(passes.length);
        for (const [i, point] of points.entries()) {
          const samples = (passes[i] as Pass).samples;
          expect(samples).toContainEqual({ tMs: point.tMs, valueNm: point.rawMinNm });
          expect(samples.every((sample) => sample.valueNm >= point.rawMinNm)).toBe(true);
          if (point.method === "raw") expect(point.turningPointNm).toBe(point.rawMinNm);
        }
      }),
      seeded,
    );
  });

  it("are the same whether the passes were looked at one after another or all at once", () => {
    fc.assert(
      fc.property(rockings, (from) => {
        const { passes, resolutionNm } = passesFrom(from);
        const grown = passes.map((_, i) => turningPoints(passes.slice(0, i + 1), resolutionNm));
        const without = turningPoints(passes.slice(1), resolutionNm);
        for (const [i, points] of grown.entries()) {
          expect(points).toEqual(turningPoints(structuredClone(passes.slice(0, i + 1)), resolutionNm));
        }
        expect(without).toEqual(turningPoints(structuredClone(passes.slice(1)), resolutionNm));
      }),
      { ...seeded, numRuns: 15 },
    );
  });

  it("a shift of all readings shifts the results exactly; a shift of all times changes nothing", () => {
    fc.assert(
      fc.property(
        rockings,
        fc.integer({ min: -5e7, max: 5e7 }),
        fc.integer({ min: 0, max: 1e8 }),
        (from, by, later) => {
          const { passes, resolutionNm } = passesFrom(from);
          const moved = passes.map((pass): Pass => {
            const samples = pass.samples.map((s): Sample => ({ tMs: s.tMs + later, valueNm: toNm(s.valueNm + by) }));
            return { ...pass, samples };
          });
          const shifted = turningPoints(moved, resolutionNm);
          for (const [i, point] of turningPoints(passes, resolutionNm).entries()) {
            expect(shifted[i]?.turningPointNm).toBe(point.turningPointNm + by);
            expect(shifted[i]?.rawMinNm).toBe(point.rawMinNm + by);
            expect(shifted[i]?.method).toBe(point.method);
          }
        },
      ),
      seeded,
    );
  });

  it("any passes are taken without an error", () => {
    const wild = fc.array(
      fc.record({
        end: fc.constantFrom<Pass["end"]>("turned", "stopped", "withdrawn", "contact-lost", "taken", "press", "held"),
        values: fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 1, maxLength: 12 }),
        interval: fc.integer({ min: 0, max: 200 }),
      }),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(wild, (parts) => {
        let tMs = 0;
        const passes = parts.map(({ end, values, interval }): Pass => {
          const samples = values.map((value) => {
            tMs += interval;
            return { tMs, valueNm: value as Nm };
          });
          return { samples, end };
        });
        for (const point of turningPoints(passes, toNm(1270))) {
          expect(Number.isSafeInteger(point.turningPointNm)).toBe(true);
        }
      }),
      { seed: 1969, numRuns: 300 },
    );
  });
});
