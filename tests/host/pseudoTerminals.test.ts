import { existsSync, readdirSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { WrongUse } from "../../electron/cli/io.ts";
import { simulate } from "../../electron/cli/simulate.ts";
import { walk } from "../../electron/cli/walk.ts";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { openPseudoTerminals } from "../../electron/simulator/pseudoTerminals.ts";
import type { Truth } from "../../electron/simulator/truth.ts";
import { benchJob } from "../simulator/jobs.ts";

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

async function until(what: string, condition: () => boolean, withinMs = 60_000): Promise<void> {
  const end = Date.now() + withinMs;
  while (!condition() && Date.now() < end) await pause(10);
  expect(condition(), what).toBe(true);
}

/** The gauge's port, which has the real serial library below it, on a pseudo-terminal, and what came through it. */
class Listener {
  text = "";
  closed = false;
  readonly #port: SerialGaugePort;

  private constructor(path: string) {
    this.#port = new SerialGaugePort({ path, baud: 9600, framing: "8N1", dtr: true, rts: true });
  }

  static async open(path: string | undefined): Promise<Listener> {
    const listener = new Listener(path ?? "");
    await listener.#port.open({
      onBytes: (bytes) => {
        listener.text += Buffer.from(bytes).toString("latin1");
      },
      onClose: () => {
        listener.closed = true;
      },
    });
    return listener;
  }

  write(text: string): Promise<void> {
    return this.#port.write(text);
  }

  close(): Promise<void> {
    return this.#port.close();
  }
}

const byEar = { seed: 1, byEar: true, stepCheck: false };

describe("simulated gauges on pseudo-terminals (real serial library and socat, no hardware)", () => {
  it("streams lines, survives a close, and loses what nobody listens to", async () => {
    const bench = await openPseudoTerminals({ ...byEar, job: benchJob() });
    try {
      const first = await Listener.open(bench.paths.get("bore"));
      await until("some lines", () => first.text.split("\r").length > 10);
      expect(first.text).toMatch(/^(\+0\.03935\r)+(\+0\.03935)?/);
      await first.close();
      await pause(1_500);
      const again = await Listener.open(bench.paths.get("bore"));
      const openedMs = performance.now();
      await until("lines again", () => again.text.split("\r").length > 10);
      // Twenty a second: thirty waiting lines would have come at once, not one by one.
      expect(performance.now() - openedMs).toBeGreaterThan(300);
      await again.close();
    } finally {
      await bench.close();
    }
  });

  it("answers a gauge's request", async () => {
    const bench = await openPseudoTerminals({ ...byEar, job: benchJob({}, { sends: "press", request: "?\r" }) });
    try {
      const listener = await Listener.open(bench.paths.get("bore"));
      // Asked before the simulator has noticed that the port is listened to, it answers nobody.
      while (listener.text === "") {
        await listener.write("?\r");
        await pause(1000);
      }
      expect(listener.text).toMatch(/^(?:\+0\.03935\r)+$/);
      await listener.close();
    } finally {
      await bench.close();
    }
  });

  it("pulls a cable and puts it back at the same path, and leaves nothing behind", async () => {
    const bench = await openPseudoTerminals({ ...byEar, job: benchJob() });
    const path = bench.paths.get("bore") ?? "";
    const folder = dirname(path);
    try {
      const before = await Listener.open(path);
      await until("lines", () => before.text.length > 0);
      await bench.pull("bore");
      await until("the port to close", () => before.closed);
      expect(existsSync(path)).toBe(false);
      await bench.putBack("bore");
      const after = await Listener.open(path);
      await until("lines after", () => after.text.length > 0);
      await after.close();
      await expect(async () => bench.pull("height gauge")).rejects.toThrow(/expected one of bore, mic/);
    } finally {
      await bench.close();
    }
    expect(existsSync(folder)).toBe(false);
  });
});

/** The command's surroundings for a test: what it wrote, and how to type to it and stop it. */
function surroundings() {
  const stop = new AbortController();
  const typed: string[] = [];
  let wake = () => {};
  const io = {
    text: "",
    errors: "",
    out(text: string) {
      io.text += text;
    },
    err(text: string) {
      io.errors += text;
    },
    typed: {
      async *[Symbol.asyncIterator]() {
        while (!stop.signal.aborted) {
          const line = typed.shift();
          if (line !== undefined) yield line;
          else {
            await new Promise<void>((resolve) => {
              wake = resolve;
            });
          }
        }
      },
    },
    stop: stop.signal,
    leave: new AbortController().signal,
  };
  return {
    io,
    end() {
      stop.abort();
      wake();
    },
    type(line: string) {
      typed.push(line);
      wake();
    },
  };
}

describe("borewright simulate", () => {
  const withFolder = async (use: (folder: string, job: string) => Promise<void>) => {
    const folder = await mkdtemp(join(tmpdir(), "borewright-simulate-"));
    const job = join(folder, "a.job.json");
    await writeFile(job, JSON.stringify({ format: "borewright/job", version: 1, walk: ["1I", "1E"] }));
    try {
      await use(folder, job);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  };

  it("writes a feed with its truth beside it, and nothing over what is there", () =>
    withFolder(async (folder, job) => {
      const { io } = surroundings();
      const feed = join(folder, "a.feed.ndjson");
      expect(await simulate(["--job", job, "--feed", feed, "--seed", "4"], io)).toBe(0);
      const first = await readFile(feed, "utf8");
      const truth = JSON.parse(await readFile(`${feed}.truth.json`, "utf8"));
      expect(truth).toMatchObject({ format: "borewright/truth", version: 1, seed: 4, blunders: [] });
      expect(first.endsWith("}\n")).toBe(true);
      await expect(simulate(["--job", job, "--feed", feed], io)).rejects.toThrow(/already there/);
      expect(await readFile(feed, "utf8")).toBe(first);
      expect(await simulate(["--job", job, "--feed", feed, "--seed", "4", "--force"], io)).toBe(0);
      expect(await readFile(feed, "utf8")).toBe(first);
      expect(readdirSync(folder)).toHaveLength(3);
    }));

  it.each([
    [["--pty", "--feed", "x"], /either --feed FILE or --pty/],
    [[], /either --feed FILE or --pty/],
    [["--feed", "x", "--hear", "s"], /--hear goes with --pty only/],
    [["--feed", "x", "--seed=-1"], /--seed -1/],
    [["--feed", "x", "--seed", "1.5"], /whole number/],
    [["--feed", "x", "--rate", "0"], /from 1 to 1000/],
    [["--feed", "x", "--blunder", "gremlin"], /found blunder "gremlin"; expected one of polarity-reversed/],
    [["--pty", "--speed", "2"], /sends press or held/],
    [["--feed", "x", "--step-check", "maybe"], /expected yes or no/],
  ])("refuses %j as wrong use", (args, says) =>
    withFolder(async (_, job) => {
      const run = simulate(["--job", job, ...args], surroundings().io);
      await expect(run).rejects.toThrow(WrongUse);
      await expect(run).rejects.toThrow(says);
    }),
  );

  it.each([
    ["by ear, listening to the session file", true],
    ["by a plan, from when both gauges are listened to", false],
  ])("lets a tool walk on the real serial library: %s", (_, listens) =>
    withFolder(async (folder) => {
      const job = join(folder, "press.job.json");
      const gauges = [
        { id: "bore", role: "bore", sends: "press" },
        { id: "mic", role: "micrometer" },
      ];
      await writeFile(job, JSON.stringify({ format: "borewright/job", version: 1, walk: ["1I", "1E"], gauges }));
      const session = join(folder, "a.bwsession");
      const truthPath = join(folder, "truth.json");
      const bench = surroundings();
      const hear = listens ? ["--hear", session] : [];
      const running = simulate(
        ["--job", job, "--pty", "--seed", "3", "--speed", "8", "--truth", truthPath, ...hear],
        bench.io,
      );
      await until("two gauges", () => bench.io.text.split("\n").length === 3);
      const ports = bench.io.text
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line) as { gauge: string; path: string })
        .flatMap(({ gauge, path }) => ["--port", `${gauge}=${path}`]);
      const tool = surroundings();
      expect(await walk(["--job", job, "--session", session, ...ports, "--json"], tool.io)).toBe(0);
      tool.end();
      const result = JSON.parse(tool.io.text.trim().split("\n").at(-1) ?? "");
      const truth = JSON.parse(await readFile(truthPath, "utf8")) as Truth;
      expect(result.complete).toBe(true);
      for (const bore of truth.bores) {
        for (const [index, station] of bore.stations.entries()) {
          const found = result.bores.find(({ name }: { name: string }) => name === bore.name).stations[index];
          // Half a step of the display at bore and zero, press and reference errors within the budget.
          expect(Math.abs(found.clearanceNm - station.clearanceNm)).toBeLessThan(5_000);
        }
      }
      bench.end();
      expect(await running).toBe(0);
    }),
  );

  it("prints where each gauge is, pulls and plugs cables as typed, and removes them when stopped", () =>
    withFolder(async (_, job) => {
      const bench = surroundings();
      const running = simulate(["--job", job, "--pty"], bench.io);
      await until("two gauges", () => bench.io.text.split("\n").length === 3);
      const gauges = bench.io.text
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line) as { gauge: string; path: string });
      expect(gauges.map(({ gauge }) => gauge)).toEqual(["bore", "mic"]);
      const path = gauges[0]?.path ?? "";
      expect(existsSync(path)).toBe(true);
      bench.type("pull bore");
      await until("the device to vanish", () => !existsSync(path));
      bench.type("plug bore");
      await until("the device to come back", () => existsSync(path));
      bench.type("dance");
      await until("a word of advice", () => bench.io.errors.includes("expected pull GAUGE or plug GAUGE"));
      bench.end();
      expect(await running).toBe(0);
      for (const gauge of gauges) expect(existsSync(gauge.path)).toBe(false);
    }));
});
