import { describe, expect, it } from "vitest";
import { studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { Random } from "./simulatedBlock.ts";
import { simulateStudy } from "./simulatedStudy.ts";

describe("gauge study", () => {
  it.each([
    ["a real interaction", { part: 3, appraiser: 1, interaction: 1.2, repeatability: 1 }],
    ["no interaction", { part: 3, appraiser: 1, interaction: 0, repeatability: 1 }],
  ])(
    "intervals at 95 per cent hold the true deviations of 2000 studies with %s",

    (name, truth) => {
      const random = new Random(31);
      const held = { repeatability: 0, gauge: 0, part: 0 };
      const studies = 2000;
      const gauge = Math.hypot(truth.appraiser, truth.interaction, truth.repeatability);
      for (let study = 0; study < studies; study += 1) {
        const found = studyByVariance(simulateStudy(random, truth), { band: null });
        const inside = (interval: { low: number; high: number } | null, value: number) =>
          interval !== null && interval.low <= value && value <= interval.high ? 1 : 0;
        held.repeatability += inside(found.repeatability.interval, truth.repeatability);
        held.gauge += inside(found.gauge.interval, gauge);
        held.part += inside(found.part.interval, truth.part);
      }
      console.info(name, Object.fromEntries(Object.entries(held).map(([key, count]) => [key, count / studies])));
      for (const count of Object.values(held)) {
        expect(count / studies).toBeGreaterThan(0.925);
        expect(count / studies).toBeLessThan(0.985);
      }
    },
  );
});
