import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { TRACE_MS } from "../../renderer/store/trace.ts";
import { SoakBench } from "./soakBench.ts";

/** Simulated hours; by `npm run long -- soak` eight, and memory is looked at only then. */
const HOURS = process.env.LONG_NUMBER === undefined ? null : Number(process.env.LONG_NUMBER);
const SEED = Number(process.env.LONG_SEED ?? 1);
/** Part of the first hour that everything takes to be loaded and compiled. */
const WARM_UP_HOURS = 0.5;

let folder: string;
let bench: SoakBench;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-soak-"));
  bench = await SoakBench.open(folder, SEED);
});
afterEach(async () => {
  await bench.close();
  await rm(folder, { recursive: true, force: true });
  // What was written last may still be read for the list.
}, 300_000);

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const mega = (bytes: number) => (bytes / 1e6).toFixed(1);

/** What grew from the first hour after the warm-up to the last, as a factor. */
function growth(samples: readonly { readonly hour: number; readonly bytes: number }[], hours: number): number {
  const within = (from: number, to: number) =>
    mean(samples.filter(({ hour }) => hour > from && hour <= to).map(({ bytes }) => bytes));
  const first = within(WARM_UP_HOURS, WARM_UP_HOURS + 1);
  const last = within(hours - 1, hours + 1);
  console.log(
    `memory ${mega(first)} MB in the first hour, ${mega(last)} MB in the last: ratio ${(last / first).toFixed(3)}`,
  );
  return last / first;
}

describe("two streams, cables that come loose, strikes and return checks, by the real host and the page's store", () => {
  it.skipIf(HOURS !== null)("have every line that was sent on record in order, or its absence told", async () => {
    const path = await bench.begin(["1I", "1E", "2I", "2E"]);
    await bench.walk(SEED);
    await bench.idle(11);
    await bench.end();
    expect(bench.reconnects).toBeGreaterThan(0);
    expect(bench.strikes).toBeGreaterThan(0);
    expect(bench.stations).toBeGreaterThanOrEqual(8);
    expect(await bench.complete(path)).toEqual({ complete: true, told: bench.reconnects });
    expect(readSessionBytes(await readFile(path))).toMatchObject({ broken: [], torn: null, differences: [] });
    await bench.tidy();
  });

  it.skipIf(HOURS === null)(
    `walks, with the gauges lying idle in between, for ${HOURS} simulated hours: no line is lost, the memory stays as it was`,
    async () => {
      const hours = HOURS ?? 0;
      const samples: { hour: number; bytes: number }[] = [];
      for (let walk = 1; bench.hours < hours; walk += 1) {
        const before = bench.reconnects;
        const path = await bench.begin();
        await bench.walk(SEED + walk);
        await bench.idle(11);
        await bench.end();
        expect(await bench.complete(path)).toEqual({ complete: true, told: bench.reconnects - before });
        if (walk % 10 === 1) {
          expect(readSessionBytes(await readFile(path))).toMatchObject({ broken: [], torn: null, differences: [] });
        }
        await bench.tidy();
        samples.push({ hour: bench.hours, bytes: await bench.memory() });
        console.log(`${bench.hours.toFixed(2)} h: ${mega(samples.at(-1)?.bytes ?? 0)} MB`);
      }
      console.log(
        `seed ${SEED}: ${samples.length} walks, ${bench.lines} lines, ${bench.stations} stations, ${bench.reconnects} reconnects, ${bench.strikes} strikes; at most ${JSON.stringify(bench.largest)}`,
      );
      expect(bench.largest.outcomes).toBeLessThanOrEqual(64);
      expect(bench.largest.trace).toBeLessThanOrEqual((TRACE_MS / 1000) * 21);
      expect(growth(samples, hours)).toBeLessThan(1.05);
    },
    14_400_000,
  );

  it.skipIf(HOURS === null)(
    `one session left open for ${HOURS} simulated hours: no line is lost, the memory stays as it was`,
    async () => {
      const hours = HOURS ?? 0;
      const samples: { hour: number; bytes: number }[] = [];
      const path = await bench.begin();
      await bench.walk(SEED);
      while (bench.hours < hours) {
        await bench.idle(20);
        samples.push({ hour: bench.hours, bytes: await bench.memory() });
        console.log(`${bench.hours.toFixed(2)} h: ${mega(samples.at(-1)?.bytes ?? 0)} MB`);
      }
      await bench.end();
      expect(await bench.complete(path)).toEqual({ complete: true, told: bench.reconnects });
      console.log(
        `seed ${SEED}: ${bench.lines} lines, ${bench.reconnects} reconnects; at most ${JSON.stringify(bench.largest)}`,
      );
      expect(growth(samples, hours)).toBeLessThan(1.05);
      await bench.tidy();
    },
    14_400_000,
  );
});
