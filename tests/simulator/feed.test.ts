import { describe, expect, it } from "vitest";
import { createLineReader } from "../../core/gauge/lineReader.ts";
import type { Job } from "../../core/session/job.ts";
import { Bench } from "../../electron/simulator/bench.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { benchJob } from "./jobs.ts";

interface FeedRecord {
  readonly t: number;
  readonly step?: string;
  readonly gauge?: string;
  readonly line?: string;
  readonly lifter?: string;
}

const parse = (lines: readonly string[]) => lines.map((line) => JSON.parse(line) as FeedRecord);
const quiet = { noiseNm: 0, errorShare: 0 };

/** Readings of the bore gauge in nm after each step of the feed, by the job's own reader. */
function boreReadings(
  job: Job,
  records: readonly FeedRecord[],
): { readonly step: string; readonly values: number[] }[] {
  const profile = job.gauges.find((gauge) => gauge.role === "bore");
  if (profile === undefined) throw new Error("a job has a bore gauge");
  const reader = createLineReader(profile);
  const stretches: { step: string; values: number[] }[] = [];
  for (const record of records) {
    if (record.step !== undefined && record.step !== "take") stretches.push({ step: record.step, values: [] });
    if (record.gauge !== profile.id || record.line === undefined) continue;
    const read = reader.read(record.line);
    if (read.ok) stretches.at(-1)?.values.push(read.valueNm);
  }
  return stretches;
}

describe("a simulated feed", () => {
  it.each(["stream", "press", "held"])("is the same to the last byte for the same seed (%s)", (sends) => {
    const job = benchJob({}, { sends });
    const once = simulateFeed(job, { seed: 7 });
    expect(simulateFeed(job, { seed: 7 })).toEqual(once);
    expect(simulateFeed(job, { seed: 8 }).lines).not.toEqual(once.lines);
  });

  it.each(["stream", "press", "held"])("never goes back in time and is whole milliseconds (%s)", (sends) => {
    let last = 0;
    for (const { t } of parse(simulateFeed(benchJob({}, { sends }), { seed: 3 }).lines)) {
      expect(Number.isInteger(t)).toBe(true);
      expect(t).toBeGreaterThanOrEqual(last);
      last = t;
    }
  });

  it("takes the steps of the job in order, with a return check when due and at the end", () => {
    const steps = parse(simulateFeed(benchJob(), { seed: 1 }).lines).filter((record) => record.step !== undefined);
    expect(steps.map((record) => record.step)).toEqual([
      "lifters",
      "zero",
      "step-check",
      "bores",
      "return",
      "bores",
      "return",
    ]);
    expect(steps[1]).toMatchObject({ lifter: "1I" });
  });

  it("begins with the zero where there is no micrometer, and asks for no return check where the job does not", () => {
    const job = benchJob({ gauges: [{ id: "bore", role: "bore" }], returnCheckEvery: 0 });
    const steps = parse(simulateFeed(job, { seed: 1, stepCheck: false }).lines).flatMap(({ step }) => step ?? []);
    expect(steps).toEqual(["zero", "bores"]);
  });

  it("measures each lifter as often as the job says, near its true diameter", () => {
    const job = benchJob({ pressesPerLifter: 2 });
    const { lines, truth } = simulateFeed(job, { seed: 4, ...quiet });
    const readings = parse(lines).filter((record) => record.gauge === "mic");
    expect(readings).toHaveLength(12);
    readings.forEach((record, index) => {
      const trueNm = truth.lifters[Math.floor(index / 2)]?.diameterNm ?? 0;
      expect(Math.abs(Number(record.line) * 25_400_000 - trueNm)).toBeLessThanOrEqual(636);
    });
  });

  it.each([
    ["+", "in", "0.00005 in"],
    ["-", "in", "0.00005 in"],
    ["+", "mm", "0.0005 mm"],
  ])("agrees with its truth to the resolution without noise (polarity %s, %s)", (polarity, unit, resolution) => {
    const job = benchJob({}, { sends: "held", polarity, unit, resolution });
    const { lines, truth } = simulateFeed(job, { seed: 11, ...quiet });
    const stretches = boreReadings(job, parse(lines));
    const zero = Math.min(...(stretches.find(({ step }) => step === "zero")?.values ?? []));
    const step = Math.min(...(stretches.find(({ step }) => step === "step-check")?.values ?? []));
    const opened = unit === "in" ? 25_400 : 20_000;
    // Held minima at 100 a second are up to 0.3 µm long at the briskest rocking; two roundings of half a step each.
    const within = (job.gauges[0]?.resolutionNm ?? 0) + 300;
    expect(Math.abs(step - zero - opened)).toBeLessThanOrEqual(within);
    const values = stretches.filter(({ step }) => step === "bores").flatMap(({ values }) => values);
    const stations = truth.bores.flatMap(({ stations }) => stations);
    // Without noise the first three held minima of a station agree, so three belong to each.
    expect(values).toHaveLength(3 * stations.length);
    // Block and lifter at one temperature off 20 °C: their difference of expansion is far below this.
    stations.forEach((station, index) => {
      const smallest = Math.min(...values.slice(3 * index, 3 * index + 3));
      expect(Math.abs(smallest - zero - station.clearanceToReferenceNm)).toBeLessThanOrEqual(within);
    });
  });

  it("a press is long by how far from square it was, never short", () => {
    const job = benchJob({}, { sends: "press", unit: "mm", resolution: "0.0001 mm" });
    const options = { seed: 5, ...quiet };
    const { lines, truth } = simulateFeed(job, options);
    const stretches = boreReadings(job, parse(lines));
    const bench = new Bench(job, options);
    const square = bench.micrometerGapNm(bench.referenceLifter, 0) - bench.bore.zeroSizeNm;
    const values = stretches.filter(({ step }) => step === "bores").flatMap(({ values }) => values);
    const stations = truth.bores.flatMap(({ stations }) => stations);
    expect(values).toHaveLength(3 * stations.length);
    const long = values.map(
      (value, index) => value - square - (stations[Math.floor(index / 3)]?.clearanceToReferenceNm ?? 0),
    );
    // Half a step of the display below; above, twice the tilt that reads 0.3 µm long.
    expect(Math.min(...long)).toBeGreaterThan(-60);
    expect(Math.max(...long)).toBeLessThan(1_300);
    expect(Math.max(...long)).toBeGreaterThan(300);
  });

  it("draws the gauge out between bores: the reading stands a millimetre beyond them", () => {
    const job = benchJob();
    const values = boreReadings(job, parse(simulateFeed(job, { seed: 2 }).lines)).flatMap(({ values }) => values);
    expect(Math.max(...values)).toBeGreaterThan(900_000);
    const out = values.filter((value, index) => value > 900_000 && (values[index - 1] ?? 0) < 900_000);
    // Before the first zero, after zero and step check, after each of six bores and after two return checks.
    expect(out).toHaveLength(11);
  });

  it("sends as many readings a second as it is told to", () => {
    for (const readingsPerSecond of [10, 50]) {
      const records = parse(simulateFeed(benchJob(), { seed: 2, readingsPerSecond }).lines);
      const count = records.filter((record) => record.gauge === "bore").length;
      expect(count / ((records.at(-1)?.t ?? 0) / 1000)).toBeCloseTo(readingsPerSecond, 0);
    }
  });

  it("asks a gauge that speaks only when asked, and has its answer follow", () => {
    const job = benchJob({}, { sends: "press", request: "?\r" });
    const records = parse(simulateFeed(job, { seed: 2 }).lines);
    const lines = records.filter((record) => record.gauge === "bore");
    expect(lines.length).toBeGreaterThan(30);
    for (const line of lines) expect(records[records.indexOf(line) - 1]).toMatchObject({ step: "take" });
  });
});
