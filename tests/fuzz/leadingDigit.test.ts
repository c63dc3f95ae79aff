import { describe, expect, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { Random } from "../../electron/simulator/random.ts";
import { Bench, jobFile } from "../session/bench.ts";
import { walkFeed } from "../session/walkFeed.ts";

const gauges = (sends: string) => [
  { id: "bore", role: "bore", sends, unit: "mm", resolution: "0.001 mm" },
  { id: "mic", role: "micrometer", sends: "press", unit: "mm", resolution: "0.001 mm" },
];

describe("one wrong leading digit, which no line shows, makes no station by itself", () => {
  for (const sends of ["press", "held"]) {
    for (const wrong of [140, 240, -40, 10, 0, 80, -140]) {
      it(`${sends}: 40 µm read as ${wrong} µm, at any press of a station`, () => {
        for (let at = 0; at < 4; at += 1) {
          const bench = new Bench(jobFile({ gauges: gauges(sends) }));
          bench.zero();
          bench.step("bores");
          for (let press = 0; press < 12 && bench.here === "1E upper axial"; press += 1) {
            bench.press(press === at ? wrong : 40 + (press % 2));
          }
          const first = bench.recording.run.stations.all[0];
          expect(first?.collector.closedMs).not.toBeNull();
          expect(first?.collector.valueNm).toBeGreaterThanOrEqual(40_000);
          expect(first?.collector.valueNm).toBeLessThanOrEqual(41_000);
        }
      });
    }
  }

  it("stream: a digit of one reading in fifty, anywhere in a walk, moves no kept station by more than 2 µm", () => {
    const file = {
      format: "borewright/job",
      version: 1,
      walk: ["1I", "1E", "2I"],
      gauges: [
        { id: "bore", role: "bore", sends: "stream", unit: "in", resolution: "0.00002 in" },
        { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00002 in" },
      ],
    };
    const { lines, truth } = simulateFeed(parseJob(file), { seed: 1, readingsPerSecond: 20, errorShare: 0 });
    const random = new Random(5);
    let damaged = 0;
    const hurt = lines.map((line) => {
      if (!line.includes('"gauge":"bore"') || random.below(50) > 0) return line;
      damaged += 1;
      // The first of the two digits that a bore's readings differ in.
      return line.replace(/([+-]0\.0)\d/, (_, head: string) => `${head}${random.below(10)}`);
    });
    const { recording } = walkFeed(file, hurt);
    expect(damaged).toBeGreaterThan(10);
    let worst = 0;
    let kept = 0;
    for (const bore of recording.run.findings()) {
      for (const { place, clearanceNm } of bore.stations) {
        const real = truth.bores
          .find((other) => other.name === bore.name)
          ?.stations.find((other) => other.height === place.height && other.clock === place.clock);
        if (real === undefined || clearanceNm === null) continue;
        kept += 1;
        worst = Math.max(worst, Math.abs(clearanceNm - real.clearanceNm));
      }
    }
    console.log(
      `${damaged} damaged readings, ${kept} stations kept, worst ${worst} nm; complete ${recording.run.complete}`,
    );
    expect(worst).toBeLessThan(2_000);
  });
});
