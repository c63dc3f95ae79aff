import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { describe, expect, it } from "vitest";
import { resultOf } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { openPseudoTerminals } from "../../electron/simulator/pseudoTerminals.ts";
import { SessionEar } from "../../electron/simulator/sessionEar.ts";
import { beginJob, connectGauge, Program } from "./program.ts";

const hasSocat = spawnSync("socat", ["-V"]).status === 0;

/**
 * A 0.5 µm gauge. The lifters are pressed several times, since the micrometer's own scatter is not what is tried here,
 * and single readings are taken five times a station, as one would for so narrow a claim.
 */
const jobOf = (sends: "press" | "held" | "stream") => ({
  format: "borewright/job",
  version: 1,
  title: `Walk by ${sends}`,
  block: "simulated, invented",
  pressesPerLifter: 3,
  sweepsPerStation: sends === "stream" ? 3 : 4,
  gauges: [
    { id: "bore", role: "bore", sends, unit: "in", resolution: "0.00002 in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00002 in" },
  ],
});

/** Counts every key, button, wheel and touch the page sees from now on. */
async function watchHands(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counter = { touched: 0 };
    Object.assign(window, { hands: counter });
    for (const type of ["keydown", "pointerdown", "pointermove", "mousedown", "mousemove", "wheel", "touchstart"]) {
      window.addEventListener(type, () => (counter.touched += 1), { capture: true });
    }
  });
  return () => page.evaluate(() => (window as unknown as { hands: { touched: number } }).hands.touched);
}

describe.skipIf(!hasSocat)(
  "sixteen bores and two stations, hands-free: socat pseudo-terminals, real serialport, real host, real page (gauges and hands simulated)",
  () => {
    it.each(["press", "held", "stream"] as const)(
      "%s: every clearance within 1.5 µm of the truth, no key and no mouse between the first and the last bore",
      async (sends) => {
        const program = await Program.start();
        const job = jobOf(sends);
        const bench = await openPseudoTerminals({
          job: parseJob(job),
          seed: 7,
          readingsPerSecond: 20,
          errorShare: 0,
          byEar: true,
          stepCheck: false,
          speed: sends === "stream" ? 1 : 3,
        });
        let ear: SessionEar | null = null;
        try {
          const { page } = program;
          await beginJob(program, job);
          for (const [id, path] of bench.paths) await connectGauge(page, id, path);
          const sessionPath = await program.sessionPath();
          const trouble: string[] = [];
          ear = new SessionEar(
            sessionPath,
            (outcome) => bench.hear(outcome),
            (why) => trouble.push(why),
          );
          const places = page.getByRole("navigation");
          await places.getByRole("button", { name: /^Lifters/ }).click();
          await page.getByRole("button", { name: "Measure the lifters" }).click();
          await page.getByText("16 of 16 measured").waitFor({ timeout: 300_000 });
          await page.getByRole("button", { name: "On to the zero" }).click();
          await page.getByRole("button", { name: "Take the zero" }).click();
          await page.getByRole("button", { name: "On to the bores" }).click({ timeout: 300_000 });

          const touched = await watchHands(page);
          await page.getByRole("heading", { name: /Cylinder 1/ }).waitFor();
          await page.getByText("The walk is complete", { exact: false }).first().waitFor({ timeout: 600_000 });
          expect(await touched()).toBe(0);
          expect(trouble).toEqual([]);

          await places.getByRole("button", { name: /^Findings/ }).click();
          const read = readSessionBytes(await readFile(sessionPath));
          expect(read.broken).toEqual([]);
          expect(read.differences).toEqual([]);
          const result = resultOf(read.recording, "intact");
          expect(result.complete).toBe(true);
          let worst = 0;
          for (const bore of result.bores) {
            for (const station of bore.stations) {
              const truth = bench.truth.bores
                .find((other) => other.name === bore.name)
                ?.stations.find((other) => other.height === station.height && other.clock === station.clock);
              if (truth === undefined || station.clearanceNm === null) throw new Error(`${bore.name} is missing`);
              worst = Math.max(worst, Math.abs(station.clearanceNm - truth.clearanceNm));
            }
          }
          console.log(`${sends}: worst of 32 clearances ${worst} nm from the simulated truth`);
          expect(worst).toBeLessThanOrEqual(1500);
          const shown = await page.locator("main").textContent();
          for (const bore of result.bores) expect(shown).toContain(bore.name);
        } finally {
          ear?.close();
          await bench.close();
          await program.close();
        }
      },
      900_000,
    );
  },
);
