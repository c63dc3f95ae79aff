import { spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { openPseudoTerminals } from "../../electron/simulator/pseudoTerminals.ts";
import { SessionEar } from "../../electron/simulator/sessionEar.ts";
import { beginJob, connectGauge, findingsShown, lookAt, Program } from "./program.ts";

const hasSocat = spawnSync("socat", ["-V"]).status === 0;

const job = {
  format: "borewright/job",
  version: 1,
  title: "A cable comes loose",
  layout: "i4",
  walk: ["1E", "1I"],
  gauges: [{ id: "bore", role: "bore", sends: "stream", unit: "in", resolution: "0.00002 in" }],
};

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

describe.skipIf(!hasSocat)("a cable pulled in the middle of a sweep (socat, real serialport, host and page)", () => {
  it("is shown, nothing is invented, the walk goes on when it is back, and shows the same when opened again", async () => {
    let program = await Program.start();
    const bench = await openPseudoTerminals({
      job: parseJob(job),
      seed: 3,
      readingsPerSecond: 20,
      errorShare: 0,
      byEar: true,
      stepCheck: false,
    });
    let ear: SessionEar | null = null;
    try {
      const { page } = program;
      await beginJob(program, job);
      await connectGauge(page, "bore", bench.paths.get("bore") ?? "");
      const path = await program.sessionPath();
      const trouble: string[] = [];
      ear = new SessionEar(
        path,
        (outcome) => bench.hear(outcome),
        (why) => trouble.push(why),
      );
      await page.getByRole("navigation").getByRole("button", { name: /^Zero/ }).click();
      await page.getByRole("button", { name: "Take the zero" }).click();
      await page.getByRole("button", { name: "On to the bores" }).click({ timeout: 300_000 });

      const read = async () => readSessionBytes(await readFile(path)).recording.run;
      const sweepsOf = async () =>
        (await read()).stations.all.reduce((sum, station) => sum + station.collector.sweeps.length, 0);
      // The first sweep is heard, so the gauge is being rocked.
      while ((await sweepsOf()) === 0) await pause(20);
      const pulled = Date.now();
      await bench.pull("bore");
      await page
        .getByText(/no longer there/)
        .first()
        .waitFor();
      const shownMs = Date.now() - pulled;
      const atPull = await sweepsOf();
      await pause(3000);
      expect(await sweepsOf()).toBe(atPull);
      await bench.putBack("bore");
      await page
        .getByText(/The walk is complete/)
        .first()
        .waitFor({ timeout: 300_000 });

      // A last sweep on its way may still join the return check.
      await pause(4000);
      const whole = readSessionBytes(await readFile(path));
      expect(trouble).toEqual([]);
      expect(whole.broken).toEqual([]);
      expect(whole.differences).toEqual([]);
      expect(whole.recording.run.notices.find((notice) => notice.code === "link-lost")?.curedMs).toBeDefined();
      let worst = 0;
      for (const bore of whole.recording.run.findings()) {
        for (const station of bore.stations) {
          const truth = bench.truth.bores
            .find((other) => other.name === bore.name)
            ?.stations.find((other) => other.height === station.place.height && other.clock === station.place.clock);
          if (truth === undefined || station.clearanceNm === null) throw new Error(`${bore.name} is missing`);
          worst = Math.max(worst, Math.abs(station.clearanceNm - truth.clearanceToReferenceNm));
        }
      }
      console.log(`shown ${shownMs} ms after the pull; worst clearance ${worst} nm from the simulated truth`);
      expect(worst).toBeLessThanOrEqual(1500);

      const shown = await findingsShown(program);
      const { folder } = program;
      await program.close({ keep: true });
      program = await lookAt(folder);
      expect(await findingsShown(program)).toBe(shown);
    } finally {
      ear?.close();
      await bench.close();
      await program.close();
    }
  });
});
