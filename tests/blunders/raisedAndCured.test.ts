import { describe, expect, it } from "vitest";
import type { Notice, NoticeCode } from "../../core/session/notice.ts";
import type { SessionRun } from "../../core/session/sessionRun.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { Bench, jobFile } from "../session/bench.ts";
import { fourJob, shortJob } from "./jobs.ts";
import { playFeed, shareFound } from "./playFeed.ts";

function noticesOf(run: SessionRun, code: NoticeCode): readonly Notice[] {
  return run.notices.filter((notice) => notice.code === code);
}

/** A bench with a zero, at its first bore. */
function atBores(file: Record<string, unknown> = jobFile({ returnCheckEvery: 0 })): Bench {
  const bench = new Bench(file);
  bench.zero(0);
  bench.step("bores");
  return bench;
}

describe("a gauge that counts the wrong way", () => {
  it("is named with the first bore that reads below the zero, and no more after the polarity is corrected", () => {
    const bench = atBores();
    bench.press(-40, -40, -40);
    expect(bench.codes()).toEqual([]);
    bench.press(-41, -41, -41);
    expect(bench.codes()).toEqual(["polarity-reversed"]);
    bench.feed({ type: "correct", gauge: "bore", polarity: "-" });
    expect(bench.codes()).toEqual([]);
  });

  it("is not named where the step check has proven that it counts rightly: the bores are small", () => {
    const bench = new Bench(jobFile({ returnCheckEvery: 0 }));
    bench.zero(0);
    bench.step("step-check", { openedNm: 20_000 });
    bench.press(20);
    bench.step("bores");
    bench.press(-40, -40, -40, -41, -41, -41);
    expect(bench.codes()).toEqual([]);
  });
});

describe("a gauge in the other unit", () => {
  it("is named by its decimals with the first line, and no more after the unit is corrected", () => {
    const bench = new Bench();
    bench.step("zero", { lifter: "1E" });
    bench.feed({ type: "line", gauge: "bore", line: "+0.00015" });
    expect(bench.codes()).toEqual(["unit-mismatch"]);
    bench.feed({ type: "correct", gauge: "bore", unit: "in" });
    expect(bench.codes()).toEqual([]);
  });

  it("is named by a lifter 25.4 times its size", () => {
    const bench = new Bench(
      jobFile({
        gauges: [
          { id: "bore", role: "bore" },
          { id: "mic", role: "micrometer" },
        ],
      }),
    );
    bench.step("lifters");
    bench.feed({ type: "line", gauge: "mic", line: "+21.40000" });
    expect(bench.codes()).toEqual(["unit-mismatch"]);
    bench.feed({ type: "strike" });
    bench.feed({ type: "line", gauge: "mic", line: "+0.84252" });
    expect(bench.codes()).toEqual([]);
  });

  it.each([
    ["press", "in"],
    ["press", "mm"],
    ["stream", "in"],
  ])("is named by its sizes alone where it pads its decimals (%s, job in %s)", (sends, unit) => {
    const bore = { sends, unit, resolution: unit === "in" ? "0.00005 in" : "0.001 mm" };
    const decimals = unit === "in" ? 5 : 3;
    const padded = (lines: string[]) =>
      lines.map((line) =>
        line.includes('"gauge":"bore"')
          ? line.replace(
              /"line":"([+-])([\d.]+)"/,
              (_, sign, digits) => `"line":"${sign}${Number(digits).toFixed(decimals)}"`,
            )
          : line,
      );
    const options = { stepCheck: false };
    const { share, others } = shareFound(shortJob(bore), ["unit-mismatch"], "unit-mismatch", 20, options, padded);
    expect(share).toBeGreaterThanOrEqual(0.95);
    console.info(
      `unit-mismatch by sizes (${sends}, job in ${unit}): found in ${share}; beside it: ${others || "nothing"}`,
    );
  });
});

describe("a lifter", () => {
  const lifters = (bench: Bench, ...millimetres: number[]) => {
    bench.step("lifters");
    bench.mic(...millimetres);
  };

  it("read a turn out is named at once, be it the first or a later one, and no more when read again", () => {
    const first = new Bench();
    lifters(first, 21.9);
    expect(first.codes()).toEqual(["turn-out"]);
    const later = new Bench();
    lifters(later, 21.4, 21.401, 20.9);
    expect(later.codes()).toEqual(["turn-out"]);
    later.feed({ type: "strike" });
    expect(later.codes()).toEqual([]);
  });

  it("of a set that is all a turn from the nominal is not accused: the nominal is another", () => {
    const bench = new Bench();
    lifters(bench, 21.9, 21.901, 21.899);
    expect(bench.codes()).toEqual([]);
  });

  it("far from its fellows is named, one within a few micrometres is not", () => {
    const walk = { layout: "i4", walk: ["1E", "1I", "2I", "2E", "3E", "3I", "4I", "4E"] };
    const bench = new Bench(jobFile(walk));
    lifters(bench, 21.4, 21.401, 21.4, 21.399, 21.403, 21.4, 21.401);
    expect(bench.codes()).toEqual([]);
    bench.mic(21.37);
    expect(bench.codes()).toEqual(["odd-lifter"]);
    bench.feed({ type: "strike" });
    expect(bench.codes()).toEqual([]);
  });
});

describe("a zero that creeps while every return check holds", () => {
  it("is named when it has crept further than one check may, and no more after a new zero", () => {
    const bench = atBores(jobFile());
    for (const [bores, zero] of [
      [41, 2],
      [42, 4],
    ] as const) {
      for (let station = 0; station < 4; station += 1) bench.press(bores, bores, bores);
      bench.step("return");
      bench.press(zero, zero, zero);
      bench.step("bores");
    }
    expect(bench.codes()).toEqual(["temperature"]);
    expect(bench.recording.run.references.every((reference) => reference.held)).toBe(true);
    bench.zero(4);
    expect(bench.codes()).toEqual([]);
  });
});

describe("a gauge too coarse for the band", () => {
  it("is named once, before the first bore, and a fine one never", () => {
    const coarse = playFeed(...feedOf("0.0005 in"));
    expect(noticesOf(coarse, "coarse-gauge")).toHaveLength(1);
    expect(noticesOf(coarse, "coarse-gauge")[0]?.tMs).toBeLessThan(coarse.stations.all[0]?.collector.closedMs ?? 0);
    expect(noticesOf(playFeed(...feedOf("0.00005 in")), "coarse-gauge")).toEqual([]);
  });

  function feedOf(resolution: string) {
    const job = shortJob({ sends: "held", resolution });
    return [job, simulateFeed(job, { seed: 2 }).lines] as const;
  }
});

describe("trouble of a stream", () => {
  it("goes when the gauge is held still, comes free or goes on", () => {
    for (const code of ["same-place", "out-of-range", "frozen", "contact-lost"] as const) {
      const job = fourJob({ sends: "stream" }, { walk: ["1E", "1I"] });
      const notices = noticesOf(playFeed(job, simulateFeed(job, { seed: 4, blunders: [code] }).lines), code);
      expect(notices.length, code).toBeGreaterThan(0);
      expect(
        notices.filter((notice) => notice.curedMs === undefined),
        code,
      ).toEqual([]);
    }
  });
});
