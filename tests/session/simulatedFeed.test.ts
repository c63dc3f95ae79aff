import { describe, expect, it } from "vitest";
import type { Sends } from "../../core/gauge/profile.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { walkFeed } from "./walkFeed.ts";

const file = (sends: Sends) => ({
  format: "borewright/job",
  version: 1,
  pressesPerLifter: 5,
  gauges: [
    { id: "bore", role: "bore", sends, unit: "in", resolution: "0.00002 in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00002 in" },
  ],
});

describe("a walk of sixteen bores and two stations by a simulated feed", () => {
  it.each(["press", "held", "stream"] as const)(
    "%s: complete, untroubled, every clearance within 1.5 µm of the truth",
    (sends) => {
      const job = parseJob(file(sends));
      let worst = 0;
      for (let seed = 1; seed <= 5; seed += 1) {
        const { lines, truth } = simulateFeed(job, { seed, readingsPerSecond: 20, errorShare: 0 });
        const { recording } = walkFeed(file(sends), lines);
        expect(recording.run.complete).toBe(true);
        expect(recording.run.notices.filter((notice) => notice.code !== "return-due")).toEqual([]);
        for (const bore of recording.run.findings()) {
          for (const station of bore.stations) {
            const { height, clock } = station.place;
            const real = truth.bores
              .find((other) => other.name === bore.name)
              ?.stations.find((other) => other.height === height && other.clock === clock);
            if (real === undefined || station.clearanceNm === null) throw new Error("a station is missing");
            worst = Math.max(worst, Math.abs(station.clearanceNm - real.clearanceNm));
          }
        }
      }
      console.log(`${sends}: worst of 5 × 32 clearances ${worst} nm from the truth`);
      expect(worst).toBeLessThanOrEqual(1500);
    },
  );
});
