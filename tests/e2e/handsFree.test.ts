import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import type { Page } from "@playwright/test";
import { describe, expect, it } from "vitest";
import { resultOf } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import type { Hands } from "../../electron/simulator/person.ts";
import { openPseudoTerminals, type PseudoTerminalBench } from "../../electron/simulator/pseudoTerminals.ts";
import { ORDINARY_ROCKING } from "../../electron/simulator/rocking.ts";
import { SessionEar } from "../../electron/simulator/sessionEar.ts";
import { beginJob, connectGauge, findingsShown, lookAt, Program } from "./program.ts";

const hasSocat = spawnSync("socat", ["-V"]).status === 0;
/** Minutes a walk, in real time, and hands that keep up only on a computer that is not busy: run by `npm run long`. */
const TIMES = Number(process.env.LONG_NUMBER ?? 0);

/** Four places a bore, and as few sweeps a place as a job may ask for: what is tried is the way, not the figure. */
const jobOf = (sends: "press" | "stream") => ({
  format: "borewright/job",
  version: 1,
  title: `Hands-free by ${sends}`,
  block: "simulated, invented",
  stations: ["upper", "lower"].flatMap((height) => ["axial", "cross"].map((clock) => ({ height, clock }))),
  sweepsPerStation: 2,
  gauges: [
    { id: "bore", role: "bore", sends, unit: "in", resolution: "0.00002 in" },
    ...(sends === "press" ? [{ id: "mic", role: "micrometer", sends, unit: "in", resolution: "0.00002 in" }] : []),
  ],
});

/** What goes wrong on the way, by bore: two sweeps struck, and once two stations back. */
const upper = { height: "upper", clock: "axial" } as const;
const lower = { height: "lower", clock: "cross" } as const;
const MISHAPS = [
  { bore: "1E", place: lower, mishap: { strikes: 1 } },
  { bore: "5I", place: lower, mishap: { strikes: 2 } },
  { bore: "6E", place: upper, mishap: { strikes: 1 } },
] as const;
/** The cable is pulled when this bore is opened. */
const PULLED_AT = "4E";

const QUICK: Hands = { pace: 3, withdraws: true };
const QUICK_ROCKING = { ...ORDINARY_ROCKING, lowHz: 1, highHz: 1.2, lowDegrees: 4, highDegrees: 8 };

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

/** The foot switch at Settings: its port, and which pedal does what, learnt by stepping on it. */
async function connectFootSwitch(page: Page, bench: PseudoTerminalBench): Promise<void> {
  await page.getByRole("navigation").getByRole("button", { name: "Settings" }).click();
  const section = page.getByRole("region", { name: "Foot switch on a serial line" });
  await section.getByLabel("Port", { exact: true }).selectOption({ label: "Another, typed" });
  await section.getByLabel("Path of the port").fill(bench.switchPath);
  await section.getByRole("button", { name: "Connect" }).click();
  for (const pedal of ["strike", "back"] as const) {
    const word = pedal === "strike" ? "Strike" : "Back";
    await section.getByRole("button", { name: `Pedal of ${word}: none` }).click();
    const learnt = section.getByRole("button", { name: new RegExp(`^Pedal of ${word}: P`) });
    // Nobody hears it until the simulator has noticed that the port is listened to.
    while ((await learnt.count()) === 0) {
      bench.tread(pedal);
      await page.waitForTimeout(200);
    }
  }
}

describe.skipIf(!hasSocat || TIMES === 0)(
  "sixteen bores and four stations with two sweeps struck, a step back, a pulled cable and return checks: socat pseudo-terminals, real serialport, host and page (gauges, foot switch and hands simulated)",
  () => {
    it.each(Array.from({ length: Math.max(1, TIMES) }, () => ["press", "stream"] as const).flat())(
      "%s: no key and no mouse between the first and the last bore, every clearance within its stated uncertainty, and the same when read again",
      async (sends) => {
        let program = await Program.start();
        const job = jobOf(sends);
        const bench = await openPseudoTerminals({
          job: parseJob(job),
          seed: 11,
          readingsPerSecond: 25,
          errorShare: 0.25,
          byEar: true,
          stepCheck: false,
          mishaps: MISHAPS,
          hands: QUICK,
          ...(sends === "stream" ? { rocking: QUICK_ROCKING } : { speed: 6 }),
        });
        let ear: SessionEar | null = null;
        try {
          const { page } = program;
          // The trace in steps: what is tried here is not how fast this computer draws.
          await page.emulateMedia({ reducedMotion: "reduce" });
          await beginJob(program, job);
          for (const [id, path] of bench.paths) await connectGauge(page, id, path);
          const sessionPath = await program.sessionPath();
          const trouble: string[] = [];
          const heard: Outcome[] = [];
          let pulled: Promise<void> | null = null;
          const pullTheCable = async () => {
            await bench.pull("bore");
            await page
              .getByText(/no longer there/)
              .first()
              .waitFor();
            await bench.putBack("bore");
          };
          ear = new SessionEar(
            sessionPath,
            (outcome) => {
              heard.push(outcome);
              bench.hear(outcome);
              if (outcome.type === "opened" && outcome.bore === PULLED_AT) pulled ??= pullTheCable();
            },
            (why) => trouble.push(why),
          );
          const places = page.getByRole("navigation");
          if (sends === "stream") await connectFootSwitch(page, bench);
          else {
            await places.getByRole("button", { name: /^Lifters/ }).click();
            await page.getByRole("button", { name: "Measure the lifters" }).click();
            await page.getByText("16 of 16 measured").waitFor({ timeout: 300_000 });
          }
          await places.getByRole("button", { name: /^Zero/ }).click();
          await page.getByRole("button", { name: "Take the zero" }).click();
          await page.getByRole("button", { name: "On to the bores" }).click({ timeout: 300_000 });

          const touched = await watchHands(page);
          const begunMs = Date.now();
          await page.getByText("The walk is complete", { exact: false }).first().waitFor({ timeout: 480_000 });
          const walkS = (Date.now() - begunMs) / 1000;
          expect(await touched()).toBe(0);
          expect(pulled).not.toBeNull();
          await pulled;
          expect(trouble).toEqual([]);
          // A last sweep on its way may still join the return check, or show that it has to be gone on with.
          const again = async () => readSessionBytes(await readFile(sessionPath));
          let read = await again();
          for (let before = -1; ; read = await again()) {
            const sweeps = read.recording.run.references.at(-1)?.sweeps.length ?? 0;
            if (read.recording.run.complete && sweeps === before) break;
            before = sweeps;
            await page.waitForTimeout(2_000);
          }
          expect(read.broken).toEqual([]);
          expect(read.differences).toEqual([]);
          const struck = heard.filter((outcome) => outcome.type === "struck");
          expect(struck.length).toBeGreaterThanOrEqual(4);
          expect(struck.filter(({ what }) => what === "station").length).toBeGreaterThanOrEqual(1);
          const { notices } = read.recording.run;
          expect(notices.find(({ code }) => code === "link-lost")?.curedMs).toBeDefined();
          expect(read.recording.run.references.filter(({ kind }) => kind === "return")).toHaveLength(2);
          const result = resultOf(read.recording, "intact");
          expect(result.complete).toBe(true);
          const off: string[] = [];
          let worst = 0;
          for (const bore of result.bores) {
            for (const { height, clock, clearanceNm, uncertaintyNm } of bore.stations) {
              const truth = bench.truth.bores
                .find((other) => other.name === bore.name)
                ?.stations.find((other) => other.height === height && other.clock === clock);
              const trueNm = sends === "press" ? truth?.clearanceNm : truth?.clearanceToReferenceNm;
              if (trueNm === undefined || clearanceNm === null || uncertaintyNm === null) {
                throw new Error(`${bore.name} ${height} ${clock} is missing`);
              }
              const error = Math.abs(clearanceNm - trueNm);
              worst = Math.max(worst, error / uncertaintyNm);
              if (error > uncertaintyNm)
                off.push(`${bore.name} ${height} ${clock}: ${error} nm, U ${uncertaintyNm} nm`);
            }
          }
          console.log(`${sends}: walked in ${walkS.toFixed(0)} s; worst of 64 errors is ${worst.toFixed(2)} of its U`);
          expect(off).toEqual([]);

          const shown = await findingsShown(program);
          await program.close({ keep: true });
          program = await lookAt(program.folder);
          expect(await findingsShown(program)).toBe(shown);
        } finally {
          ear?.close();
          await bench.close();
          await program.close();
        }
      },
      700_000,
    );
  },
);
