import { spawn, spawnSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Result } from "../../core/report/result.ts";
import { parseJob } from "../../core/session/jobFile.ts";
import { openPseudoTerminals } from "../../electron/simulator/pseudoTerminals.ts";
import { SessionEar } from "../../electron/simulator/sessionEar.ts";
import { asFeed } from "./asFeed.ts";

const PROGRAM = fileURLToPath(new URL("../../dist/cli/borewright.mjs", import.meta.url));
const hasSocat = spawnSync("socat", ["-V"]).status === 0;

const jobOf = (sends: "press" | "held" | "stream") => ({
  format: "borewright/job",
  version: 1,
  title: `Walk by ${sends}`,
  pressesPerLifter: 3,
  sweepsPerStation: sends === "stream" ? 3 : 4,
  gauges: [
    { id: "bore", role: "bore", sends, unit: "in", resolution: "0.00002 in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00002 in" },
  ],
});

let folder = "";
const at = (name: string) => join(folder, name);
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-ports-"));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

/** Runs the built command to its end; the last line it printed, read as a result. */
function borewright(...args: string[]): Promise<{ status: number | null; result: Result }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [PROGRAM, ...args], { stdio: ["ignore", "pipe", "inherit"] });
    let out = "";
    child.stdout.on("data", (bytes: Buffer) => {
      out += bytes.toString("utf8");
    });
    child.once("close", (status) => resolve({ status, result: JSON.parse(out.trimEnd().split("\n").at(-1) ?? "") }));
  });
}

describe.skipIf(!hasSocat)(
  "borewright walk, sixteen bores and two stations, by ports (socat pseudo-terminals; gauges and hands simulated)",
  () => {
    it.each(["press", "held", "stream"] as const)(
      "%s: within 1.5 µm of the truth; the walk, a feed of what it heard and the recheck agree to the nanometre",
      async (sends) => {
        const job = jobOf(sends);
        const bench = await openPseudoTerminals({
          job: parseJob(job),
          seed: 11,
          readingsPerSecond: 20,
          errorShare: 0,
          byEar: true,
          stepCheck: false,
          // Hands that work faster than a busy computer answers press before they have heard the tool.
          speed: sends === "stream" ? 1 : 2,
        });
        const session = at("walk.bwsession");
        const trouble: string[] = [];
        const ear = new SessionEar(
          session,
          (outcome) => bench.hear(outcome),
          (why) => trouble.push(why),
        );
        try {
          await writeFile(at("walk.job.json"), JSON.stringify(job));
          const ports = [...bench.paths].flatMap(([id, path]) => ["--port", `${id}=${path}`]);
          const walk = ["walk", "--job", at("walk.job.json"), "--json"];
          const byPort = await borewright(...walk, ...ports, "--session", session);
          expect(trouble).toEqual([]);
          expect(byPort.status).toBe(0);
          let worst = 0;
          for (const bore of byPort.result.bores) {
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

          const rechecked = await borewright("recheck", session, "--json");
          expect(rechecked.status).toBe(0);
          expect(rechecked.result).toEqual(byPort.result);

          await writeFile(at("heard.feed.ndjson"), asFeed(await readFile(session, "utf8")));
          const byFeed = await borewright(...walk, "--feed", at("heard.feed.ndjson"), "--session", at("fed.bwsession"));
          expect(byFeed.status).toBe(0);
          expect(byFeed.result).toEqual(byPort.result);
        } finally {
          ear.close();
          await bench.close();
        }
      },
      900_000,
    );
  },
);
