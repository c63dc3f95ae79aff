import { describe, expect, it } from "vitest";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { Random } from "../../electron/simulator/random.ts";
import { wornBlock } from "../../electron/simulator/trueBlock.ts";
import { fourJob } from "./jobs.ts";
import { alarms, playFeed } from "./playFeed.ts";
import { PLACES } from "./syntheticWalk.ts";

const RUNS = 300;
const SENDS = ["press", "held", "stream"] as const;
const DISPLAYS = [
  { unit: "in", resolution: "0.00005 in" },
  { unit: "in", resolution: "0.00002 in" },
  { unit: "mm", resolution: "0.001 mm" },
  { unit: "mm", resolution: "0.0005 mm" },
] as const;
const LINES = ["decimal", "decimal-unit", "decimal-comma", "channel-tagged"] as const;
const RATES = [10, 20, 50] as const;

const nth = <T>(list: readonly T[], index: number): T => list[index % list.length] as T;

describe("clean work at the simulated bench", () => {
  it(`raises an alarm in at most one of a hundred sessions (${RUNS} seeds)`, () => {
    const accused: string[] = [];
    for (let seed = 1; seed <= RUNS; seed += 1) {
      const sends = nth(SENDS, seed);
      const bore = { sends, ...nth(DISPLAYS, seed >> 1), line: nth(LINES, seed >> 2), polarity: seed % 5 ? "+" : "-" };
      const job = fourJob(bore, sends === "stream" || seed % 2 ? {} : { layout: "v8-alternate" });
      const options = {
        readingsPerSecond: nth(RATES, seed >> 3),
        stepCheck: seed % 4 !== 0,
        temperatures: seed % 7 !== 0,
      };
      const { lines } = simulateFeed(job, { ...options, seed });
      const raised = alarms(playFeed(job, lines));
      if (raised.length > 0)
        accused.push(`seed ${seed} (${sends}, ${options.readingsPerSecond}/s): ${raised.join(", ")}`);
    }
    console.info(`false alarms in ${accused.length} of ${RUNS} clean sessions\n${accused.join("\n")}`);
    expect(accused.length).toBeLessThanOrEqual(RUNS / 100);
  });

  // One bore of such a block is far out, and said to be.
  it(`on used blocks raises nothing but the bore that is far out, in all but one of a hundred sessions (${RUNS} seeds)`, () => {
    const accused: string[] = [];
    for (let seed = 1; seed <= RUNS; seed += 1) {
      const sends = nth(SENDS, seed);
      const stations = PLACES.slice(0, nth([2, 4, 6], seed >> 3));
      const layout = sends === "stream" || seed % 2 ? "i4" : "v8-alternate";
      const job = fourJob({ sends, ...nth(DISPLAYS, seed >> 1) }, { layout, stations });
      const block = wornBlock(job, new Random(seed));
      const raised = alarms(playFeed(job, simulateFeed(job, { seed, block }).lines));
      const wrong = raised.filter((code) => code !== "odd-bore");
      if (wrong.length > 0) accused.push(`seed ${seed} (${sends}, ${stations.length} stations): ${wrong.join(", ")}`);
    }
    console.info(`false alarms on ${accused.length} of ${RUNS} used blocks\n${accused.join("\n")}`);
    expect(accused.length).toBeLessThanOrEqual(RUNS / 100);
  });
});
