import { describe, expect, it } from "vitest";
import { findBores } from "../../core/fit/findBores.ts";
import { BENCH, type Bench, Random, simulateBlock } from "./simulatedBlock.ts";

const BLOCKS = 1500;

/** Share of stations whose true clearance lies within the stated ±U, and the root mean square of error over u. */
function coverageOf(bench: Bench, seed: number, blocks = BLOCKS) {
  const random = new Random(seed);
  let stations = 0;
  let covered = 0;
  let error = 0;
  let expanded = 0;
  for (let block = 0; block < blocks; block += 1) {
    const { input, truth } = simulateBlock(random, bench);
    for (const bore of findBores(input)) {
      bore.stations.forEach((station, at) => {
        const off = (station.clearanceNm ?? Number.NaN) - (truth.get(bore.name)?.[at] ?? Number.NaN);
        stations += 1;
        if (Math.abs(off) <= (station.uncertaintyNm ?? 0)) covered += 1;
        error += off ** 2;
        expanded += station.uncertaintyNm ?? 0;
      });
    }
  }
  return {
    stations,
    coverage: covered / stations,
    rmsErrorNm: Math.sqrt(error / stations),
    meanExpandedNm: expanded / stations,
  };
}

const BENCHES: Readonly<Record<string, Partial<Bench>>> = {
  "held minima, display of 0.00005 in": {},
  "held minima, hardly any scatter": { noiseNm: 120 },
  "held minima, much scatter": { noiseNm: 1000 },
  "held minima, display of 0.5 µm": { resolutionNm: 500 },
  "held minima, five sweeps": { sweeps: 5 },
  "a stream of 0.5 µm": { sends: "stream", resolutionNm: 500, noiseNm: 300 },
  "a stream of 0.00005 in": { sends: "stream", noiseNm: 300 },
  presses: { sends: "press", noiseNm: 300 },
  "presses, careful hand": { sends: "press", noiseNm: 300, excessNm: 200 },
  "presses, rough hand": { sends: "press", noiseNm: 300, excessNm: 1500 },
  "presses that only scatter": { sends: "press", excessNm: 0, noiseNm: 600 },
  "aluminium block, temperatures not measured": { block: "aluminium-356" },
  "aluminium block, temperatures measured": { block: "aluminium-356", temperaturesMeasured: true },
  "lifters of their own": { ownLifters: true },
  "a zero that drifts": { driftNm: 1500 },
  "two bores only": { bores: 2 },
};

describe("stated 95 % intervals hold the truth in 93 to 97 % of simulated stations", () => {
  Object.entries(BENCHES).forEach(([name, change], index) => {
    it(name, { timeout: 120_000 }, () => {
      const bench = { ...BENCH, ...change };
      const found = coverageOf(
        bench,
        20_260 + index,
        Math.ceil((BLOCKS * 16) / bench.bores / (bench.bores < 8 ? 4 : 1)),
      );
      console.info(
        `${name}: ${(100 * found.coverage).toFixed(2)} % of ${found.stations} stations; ` +
          `rms error ${found.rmsErrorNm.toFixed(0)} nm, mean U ${found.meanExpandedNm.toFixed(0)} nm`,
      );
      expect(found.coverage).toBeGreaterThanOrEqual(0.93);
      expect(found.coverage).toBeLessThanOrEqual(0.97);
    });
  });
});
