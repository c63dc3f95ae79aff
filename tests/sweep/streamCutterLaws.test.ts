import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Nm, toNm } from "../../core/length/nm.ts";
import type { CutterEvent } from "../../core/sweep/streamCutter.ts";
import type { Pass, Sample } from "../../core/sweep/sweep.ts";
import { anyRocking, Chance, rock } from "./rocking.ts";
import { cut } from "./scenes.ts";

const seeded = { seed: 20_240, numRuns: 60 };

function passes(events: readonly CutterEvent[]): Pass[] {
  return events.flatMap((event) => (event.type === "pass" ? [event.pass] : []));
}

describe("laws of cutting", () => {
  const streams = fc.record({ seed: fc.integer({ min: 1, max: 1e9 }), perSecond: fc.integer({ min: 8, max: 60 }) });
  const streamOf = ({ seed, perSecond }: { seed: number; perSecond: number }) => {
    const chance = new Chance(seed);
    const rocking = anyRocking(chance, perSecond, "turns", "stamp");
    return { samples: rock(rocking, chance, 8), resolutionNm: rocking.resolutionNm };
  };

  it("a shift of all readings shifts every pass, and a shift of all times moves them, and nothing else", () => {
    fc.assert(
      fc.property(
        streams,
        fc.integer({ min: -1e6, max: 1e6 }),
        fc.integer({ min: 0, max: 1e7 }),
        (stream, by, later) => {
          const { samples, resolutionNm } = streamOf(stream);
          const plainly = passes(cut(samples, resolutionNm, null));
          const moved = samples.map((s) => ({ tMs: s.tMs + later, valueNm: toNm(s.valueNm + by) }));
          const shifted = passes(cut(moved, resolutionNm, null));
          expect(shifted).toEqual(
            plainly.map((pass) => ({
              end: pass.end,
              samples: pass.samples.map((s) => ({ tMs: s.tMs + later, valueNm: s.valueNm + by })),
            })),
          );
        },
      ),
      seeded,
    );
  });

  it("what was cut from a part of the stream stands in what is cut from all of it", () => {
    fc.assert(
      fc.property(streams, fc.double({ min: 0.1, max: 0.9, noNaN: true }), (stream, share) => {
        const { samples, resolutionNm } = streamOf(stream);
        const part = cut(samples.slice(0, Math.floor(samples.length * share)), resolutionNm, null);
        expect(cut(samples, resolutionNm, null).slice(0, part.length)).toEqual(part);
      }),
      seeded,
    );
  });

  it("a constant stream gives no pass", () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e7, max: 1e7 }), fc.integer({ min: 1, max: 400 }), (valueNm, interval) => {
        const samples = Array.from({ length: 400 }, (_, i) => ({ tMs: i * interval, valueNm: valueNm as Nm }));
        expect(passes(cut(samples, 1270, null))).toEqual([]);
      }),
      seeded,
    );
  });

  it("any numbers at any times are taken without an error, and every pass holds samples of the stream in order", () => {
    const wild = fc.array(fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: -1e7, max: 1e7 })), {
      maxLength: 300,
    });
    fc.assert(
      fc.property(wild, (steps) => {
        let tMs = 0;
        const samples = steps.map(([gap, value]) => {
          tMs += gap % 7 === 0 ? gap : gap % 60;
          return { tMs, valueNm: value as Nm };
        });
        for (const pass of passes(cut(samples, 1270, 300_000))) {
          const at = samples.indexOf(pass.samples[0] as Sample);
          expect(at).toBeGreaterThanOrEqual(0);
          expect(pass.samples).toEqual(samples.slice(at, at + pass.samples.length));
        }
      }),
      seeded,
    );
  });
});
