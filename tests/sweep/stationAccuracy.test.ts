import { describe, expect, it } from "vitest";
import { stationError } from "./stationError.ts";

/** The requirement, µm, and how much less would be good. */
const REQUIRED = [
  { perSecond: 10, must: 0.45, aim: 0.25 },
  { perSecond: 20, must: 0.3, aim: 0.15 },
  { perSecond: 50, must: 0.2, aim: 0.1 },
] as const;

describe("how well a station value is found (simulated rocking, seven passes, median)", () => {
  for (const { perSecond, must, aim } of REQUIRED) {
    for (const wander of ["turns", "smooth"] as const) {
      for (const jitterOf of ["stamp", "reading"] as const) {
        it(`${perSecond} readings a second, wander ${wander}, late ${jitterOf}`, () => {
          const found = stationError({ perSecond, stations: 400, wander, jitterOf });
          console.info(
            `${perSecond}/s ${wander}, late ${jitterOf}: RMS ${found.rms.toFixed(3)} µm (must ${must}, aim ${aim}), ` +
              `bias ${found.bias.toFixed(3)}, 1 in 100 beyond ${found.hundredth.toFixed(2)}, one sweep ${found.singleRms.toFixed(2)}; ` +
              `smallest reading RMS ${found.rawRms.toFixed(2)}, bias ${found.rawBias.toFixed(2)}`,
          );
          expect(found.rms).toBeLessThanOrEqual(must);
          expect(Math.abs(found.bias)).toBeLessThan(0.1);
          expect(found.rms).toBeLessThan(found.rawRms);
          expect(found.rhythmShare).toBeGreaterThan(0.98);
        });
      }
    }
    it(`${perSecond} readings a second with a kink at square that no hand makes`, () => {
      const found = stationError({ perSecond, stations: 300, wander: "kinked", jitterOf: "stamp" });
      expect(found.rms).toBeLessThanOrEqual(must);
      expect(Math.abs(found.bias)).toBeLessThan(0.1);
    });
  }

  it("three passes are enough to be well inside the agreement of 2.5 µm", () => {
    const found = stationError({ perSecond: 10, stations: 300, wander: "turns", jitterOf: "stamp", passes: 3 });
    expect(found.rms).toBeLessThan(0.6);
    expect(found.hundredth).toBeLessThan(2);
  });
});
