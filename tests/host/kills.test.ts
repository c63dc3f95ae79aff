import { spawn, spawnSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { readSessionBytes } from "../../electron/host/sessionFile.ts";
import { openPseudoTerminals } from "../../electron/simulator/pseudoTerminals.ts";
import { Random } from "../../electron/simulator/random.ts";
import { SessionEar } from "../../electron/simulator/sessionEar.ts";

/** Many more with `npm run long -- kills`. */
const KILLS = Number(process.env.LONG_NUMBER ?? 200);
const SEED = Number(process.env.LONG_SEED ?? 20_260_101);
const PROGRAM = fileURLToPath(new URL("../../dist/cli/borewright.mjs", import.meta.url));
const hasSocat = spawnSync("socat", ["-V"]).status === 0;

const jobFile = {
  format: "borewright/job",
  version: 1,
  title: "Killed again and again",
  gauges: [
    { id: "bore", role: "bore", sends: "press", unit: "in", resolution: "0.00005 in" },
    { id: "mic", role: "micrometer", sends: "press", unit: "in", resolution: "0.00005 in" },
  ],
};

/** One life of a walk: what it said, and how it ended. */
interface Life {
  readonly stations: readonly string[];
  readonly said: boolean;
  readonly exit: number | null;
  readonly errors: string;
}

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-kills-"));
});
afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

/** Runs a walk until it ends or is killed `liveMs` after its first record. */
function live(args: readonly string[], liveMs: number): Promise<Life> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [PROGRAM, "walk", "--json", ...args], { stdio: ["ignore", "pipe", "pipe"] });
    let out = "";
    let errors = "";
    let timer: NodeJS.Timeout | null = setTimeout(() => child.kill("SIGKILL"), 150 + liveMs);
    child.stdout.on("data", (bytes: Buffer) => {
      out += bytes.toString("utf8");
    });
    child.stderr.on("data", (bytes: Buffer) => {
      errors += bytes.toString("utf8");
    });
    child.once("close", (exit) => {
      if (timer !== null) clearTimeout(timer);
      timer = null;
      // The last piece may be torn: only a whole line was said.
      const lines = out.split("\n").slice(0, -1);
      const stations = lines.flatMap((line) => {
        const record = JSON.parse(line) as { type?: string; bore?: string; height?: string; valueNm?: number };
        return record.type === "station" ? [`${record.bore} ${record.height}`] : [];
      });
      resolve({ stations, said: lines.length > 0, exit, errors });
    });
  });
}

describe.skipIf(!hasSocat)(
  "a walk killed without warning (SIGKILL; simulated gauges on socat pseudo-terminals)",
  () => {
    it(
      `${KILLS} times at random moments: no kept station is lost, every file opens, and it goes on where it was`,
      async () => {
        const random = new Random(SEED);
        const job = parseJob(jobFile);
        const jobPath = join(folder, "walk.job.json");
        await writeFile(jobPath, JSON.stringify(jobFile));
        let kills = 0;
        let walks = 0;
        let torn = 0;
        while (kills < KILLS) {
          walks += 1;
          const sessionPath = join(folder, `walk-${walks}.bwsession`);
          const bench = await openPseudoTerminals({ job, seed: walks, byEar: true, stepCheck: false, speed: 10 });
          const trouble: string[] = [];
          const ear = new SessionEar(
            sessionPath,
            (outcome) => bench.hear(outcome),
            (why) => trouble.push(why),
          );
          try {
            const ports = [...bench.paths].flatMap(([id, path]) => ["--port", `${id}=${path}`]);
            const said = new Set<string>();
            let begun = false;
            for (;;) {
              const args = ["--job", jobPath, "--session", sessionPath, ...ports, ...(begun ? ["--resume"] : [])];
              const last = kills >= KILLS;
              const life = await live(args, last ? 600_000 : random.between(20, 900));
              for (const station of life.stations) said.add(station);
              const bytes = await readFile(sessionPath).catch(() => null);
              if (bytes === null) {
                // Killed before the file was there; nothing can have been said.
                expect(life.said).toBe(false);
                kills += 1;
                continue;
              }
              begun = true;
              const read = readSessionBytes(bytes);
              expect(read.broken, life.errors).toEqual([]);
              expect(read.differences).toEqual([]);
              if (read.torn !== null) torn += 1;
              const kept = read.recording.run.stations.all
                .filter((station) => station.collector.closedMs !== null)
                .map((station) => `${station.bore} ${station.place.height}`);
              for (const station of said) expect(kept).toContain(station);
              if (life.exit !== null) {
                expect(life.exit, life.errors).toBe(0);
                expect(read.recording.run.complete).toBe(true);
                expect(kept).toHaveLength(32);
                break;
              }
              kills += 1;
              if (kills % 100 === 0) console.log(`seed ${SEED}: ${kills} kills, ${torn} left a torn record`);
            }
            expect(trouble).toEqual([]);
          } finally {
            ear.close();
            await bench.close();
          }
        }
        console.log(`seed ${SEED}: ${kills} kills over ${walks} walks; ${torn} left a torn record`);
      },
      900_000 + KILLS * 5_000,
    );
  },
);
