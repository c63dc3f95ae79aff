import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { readdir, rm } from "node:fs/promises";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { setImmediate as turn } from "node:timers/promises";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { parseJob } from "../../core/session/jobFile.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { simulateFeed } from "../../electron/simulator/feed.ts";
import { Random } from "../../electron/simulator/random.ts";
import { createDesk, type Desk } from "../../renderer/store/store.ts";
import { ScriptedCable } from "./scriptedPort.ts";

setFlagsFromString("--expose-gc");
const gc = runInNewContext("gc") as () => void;

const GAUGES = ["bore", "mic"] as const;
type Gauge = (typeof GAUGES)[number];

const jobFile = {
  format: "borewright/job",
  version: 1,
  title: "Soak",
  returnCheckEvery: 4,
  gauges: [
    { id: "bore", role: "bore", sends: "stream", unit: "in", resolution: "0.00005 in" },
    { id: "mic", role: "micrometer", sends: "stream", unit: "in", resolution: "0.00005 in" },
  ],
};
/** The micrometer's stream; both gauges' while nobody works. */
const MIC_EVERY_MS = 250;
const IDLE_EVERY_MS = 1000;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** What was sent while the cable was in, in order. */
class Sent {
  readonly #hash = createHash("sha256");
  count = 0;

  add(line: string): void {
    this.count += 1;
    this.#hash.update(`${line}\n`);
  }

  get digest(): string {
    return this.#hash.copy().digest("hex");
  }
}

/** The real host with both gauges on scripted cables, the page's own store listening, and a clock that the soak moves. */
export class SoakBench {
  readonly #folder: string;
  readonly #random: Random;
  readonly desk: Desk;
  #host!: HostService;
  #nowMs = 0;
  readonly #cables = { bore: new ScriptedCable(), mic: new ScriptedCable() };
  #sent: Record<Gauge, Sent> = { bore: new Sent(), mic: new Sent() };
  #micLine = "+0.84200";
  #micDueMs = 0;
  #micEveryMs = MIC_EVERY_MS;
  #job: object = jobFile;
  lines = 0;
  reconnects = 0;
  strikes = 0;
  stations = 0;
  largest = { trace: 0, outcomes: 0, notices: 0 };

  private constructor(folder: string, seed: number) {
    this.#folder = folder;
    this.#random = new Random(seed);
    this.desk = createDesk();
  }

  static async open(folder: string, seed: number): Promise<SoakBench> {
    const bench = new SoakBench(folder, seed);
    bench.#host = await HostService.open({
      shell: "loopback",
      folder,
      now: () => bench.#nowMs,
      newPort: ({ path }) => bench.#cables[path as Gauge].newPort(),
      ports: (onChange) => new PortList(onChange, async () => []),
    });
    bench.#host.listen((event) => {
      bench.desk.receive(event);
      if (event.type === "outcome" && event.outcome.type === "station" && !event.outcome.again) bench.stations += 1;
    });
    return bench;
  }

  get hours(): number {
    return this.#nowMs / 3_600_000;
  }

  close(): Promise<void> {
    return this.#host.close();
  }

  /** A new session. Returns the file it is in. */
  async begin(bores?: readonly string[]): Promise<string> {
    this.#job = { ...jobFile, ...(bores === undefined ? {} : { walk: bores }) };
    const { id } = (await this.#call("session.new", { job: this.#job })) as { id: string };
    this.#sent = { bore: new Sent(), mic: new Sent() };
    this.#micDueMs = this.#nowMs + MIC_EVERY_MS;
    for (const gauge of GAUGES) {
      await this.#call("gauge.connect", { gauge, settings: { path: gauge, baud: 115_200 } });
    }
    await pause(20);
    return join(this.#folder, id);
  }

  async end(): Promise<void> {
    await this.#call("session.close", {});
  }

  /** One walk round the block with cables that come loose and sweeps that are struck. */
  async walk(seed: number): Promise<void> {
    const { lines } = simulateFeed(parseJob(this.#job), { seed, readingsPerSecond: 20 });
    this.#micEveryMs = MIC_EVERY_MS;
    const startMs = this.#nowMs;
    for (const [index, text] of lines.entries()) {
      const { t, gauge, line, step, lifter } = JSON.parse(text) as {
        t: number;
        gauge?: Gauge;
        line?: string;
        step?: string;
        lifter?: string;
      };
      this.#advance(startMs + t);
      if (gauge === "mic" && line !== undefined) this.#micLine = line;
      if (gauge !== undefined && line !== undefined) this.#send(gauge, line);
      else if (step === "take") await this.#act({ type: "take" });
      else if (step === "step-check") await this.#act({ type: "step", step, openedNm: 25_400 });
      else await this.#act({ type: "step", step, ...(lifter === undefined ? {} : { lifter }) });
      if (index % 900 === 600) await this.#strike();
      if (index % 1100 === 800) await this.#reconnect();
      if (index % 50 === 0) await this.#rest();
    }
  }

  /** Nobody works: both gauges show where they lie, a line is damaged now and then, a cable loose every ten minutes. */
  async idle(minutes: number): Promise<void> {
    this.#micEveryMs = IDLE_EVERY_MS;
    for (let second = 1; second <= minutes * 60; second += 1) {
      this.#advance(this.#nowMs + IDLE_EVERY_MS);
      this.#send("bore", second % 9 === 0 ? "+0.0x" : `+0.0${400 + Math.floor(this.#random.between(0, 9))}5`);
      if (second % 600 === 0) await this.#reconnect();
      if (second % 20 === 0) await this.#rest();
    }
  }

  /** Whether the file holds every line that was sent while its cable was in, in order, and tells of each one that was out. */
  async complete(path: string): Promise<{ readonly complete: boolean; readonly told: number }> {
    const found = { bore: new Sent(), mic: new Sent() };
    let told = 0;
    for await (const text of createInterface({ input: createReadStream(path) })) {
      const { type, gauge, line, link } = JSON.parse(text) as Record<string, string>;
      if (type === "line") found[gauge as Gauge].add(line ?? "");
      if (type === "link" && link === "lost") told += 1;
    }
    return { complete: GAUGES.every((gauge) => found[gauge].digest === this.#sent[gauge].digest), told };
  }

  /** Removes what was written so far. @throws Error when anything but sessions and the program's own lists lies there. */
  async tidy(): Promise<void> {
    for (const name of await readdir(this.#folder)) {
      if (name.endsWith(".bwsession")) await rm(join(this.#folder, name));
      else if (name !== ".library.json" && name !== "ports.json") throw new Error(`${name} was left behind`);
    }
  }

  /** What is held in memory after everything that can be let go was, bytes. */
  async memory(): Promise<number> {
    for (let round = 0; round < 4; round += 1) {
      gc();
      await pause(40);
    }
    gc();
    const { heapUsed, external } = process.memoryUsage();
    return heapUsed + external;
  }

  async #call(method: string, input: object): Promise<unknown> {
    const answer = await this.#host.call(method, input, { mayAct: true });
    if (!answer.ok) throw new Error(`${method}: ${answer.message}`);
    return answer.value;
  }

  async #act(action: object): Promise<void> {
    await this.#call("session.act", { action });
  }

  /** Moves the clock on; the micrometer shows its value all the while. */
  #advance(toMs: number): void {
    while (this.#micDueMs <= toMs) {
      this.#nowMs = Math.max(this.#nowMs, this.#micDueMs);
      this.#micDueMs += this.#micEveryMs;
      this.#send("mic", this.#micLine);
    }
    this.#nowMs = Math.max(this.#nowMs, toMs);
  }

  #send(gauge: Gauge, line: string): void {
    const cable = this.#cables[gauge];
    cable.send(`${line}\r\n`);
    if (!cable.plugged) return;
    this.#sent[gauge].add(line);
    this.lines += 1;
  }

  async #strike(): Promise<void> {
    this.strikes += 1;
    await this.#act({ type: "strike" });
  }

  async #reconnect(): Promise<void> {
    this.reconnects += 1;
    const gauge = this.reconnects % 2 === 1 ? "bore" : "mic";
    const cable = this.#cables[gauge];
    cable.pull();
    for (let lost = 0; lost < 10; lost += 1) {
      this.#advance(this.#nowMs + 50);
      this.#send(gauge, "+0.01000");
    }
    const { openings } = cable;
    cable.plugIn();
    for (let wait = 0; cable.openings === openings; wait += 1) {
      if (wait > 3000) throw new Error("the gauge did not come back");
      await pause(20);
    }
    await pause(20);
  }

  /** Lets the disk and the page have their turn. */
  async #rest(): Promise<void> {
    await turn();
    const { trace, lastOutcomes, view } = this.desk.store.getState();
    for (const ring of trace.values()) this.largest.trace = Math.max(this.largest.trace, ring.readings().length);
    this.largest.outcomes = Math.max(this.largest.outcomes, lastOutcomes.length);
    this.largest.notices = Math.max(this.largest.notices, view?.notices.length ?? 0);
    while (this.desk.store.getState().saved.pending > 500) await pause(20);
  }
}
