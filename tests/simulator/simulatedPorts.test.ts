import { describe, expect, it } from "vitest";
import { LineSplitter } from "../../core/gauge/lineSplitter.ts";
import type { Outcome } from "../../core/session/outcome.ts";
import { SessionRun } from "../../core/session/sessionRun.ts";
import { SessionClock } from "../../electron/host/sessionClock.ts";
import { BlunderError } from "../../electron/simulator/blunders.ts";
import { createSimulatedBench } from "../../electron/simulator/simulatedPorts.ts";
import { gaugePortContract } from "../contract/gaugePort.ts";
import { benchJob } from "./jobs.ts";

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

gaugePortContract({
  name: "simulated gauge in this process (stands in for a gauge)",
  async make() {
    const bench = createSimulatedBench({ job: benchJob(), seed: 1 });
    const make = bench.ports.get("bore");
    if (make === undefined) throw new Error("the job has a bore gauge");
    return {
      port: make(),
      send: null,
      pull: async () => bench.pull("bore"),
      received: null,
      cleanUp: async () => bench.close(),
    };
  },
  makeAbsent() {
    const bench = createSimulatedBench({ job: benchJob(), seed: 1 });
    bench.close();
    const make = bench.ports.get("bore");
    if (make === undefined) throw new Error("the job has a bore gauge");
    return make();
  },
});

describe("a simulated bench", () => {
  it("shows the streaming gauge in the air until the person may work, and a button sends nothing", async () => {
    const bench = createSimulatedBench({ job: benchJob(), seed: 1, rate: 20 });
    const lines = { bore: [] as string[], mic: [] as string[] };
    for (const id of ["bore", "mic"] as const) {
      const splitter = new LineSplitter();
      await bench.ports
        .get(id)?.()
        .open({ onBytes: (bytes) => lines[id].push(...splitter.push(bytes)), onClose() {} });
    }
    bench.hear({ type: "step", t: 0, step: "lifters" });
    await pause(300);
    expect(lines.bore.length).toBeGreaterThan(40);
    expect(new Set(lines.bore)).toEqual(new Set(["+0.03935"]));
    expect(lines.mic).toEqual([]);
    bench.run(true);
    await pause(400);
    expect(lines.mic.length).toBeGreaterThan(0);
    bench.close();
  });

  it("can be opened again after its cable was pulled and put back, and by one at a time", async () => {
    const bench = createSimulatedBench({ job: benchJob(), seed: 1 });
    const make = bench.ports.get("bore");
    if (make === undefined) throw new Error("the job has a bore gauge");
    const closes: unknown[] = [];
    const handlers = { onBytes() {}, onClose: (closed: unknown) => closes.push(closed) };
    await make().open(handlers);
    await expect(make().open(handlers)).rejects.toMatchObject({ code: "busy" });
    bench.pull("bore");
    await expect(make().open(handlers)).rejects.toMatchObject({ code: "absent" });
    bench.putBack("bore");
    await make().open(handlers);
    expect(closes).toHaveLength(1);
    bench.close();
    expect(closes).toHaveLength(2);
  });

  it("refuses a blunder that it does not know, by name", () => {
    expect(() => createSimulatedBench({ job: benchJob(), seed: 1, blunders: ["gremlin"] })).toThrow(BlunderError);
  });

  it("is asked by what the job says and answers with one line", async () => {
    const bench = createSimulatedBench({ job: benchJob({}, { sends: "press", request: "?\r" }), seed: 1 });
    const port = bench.ports.get("bore")?.();
    let text = "";
    await port?.open({
      onBytes(bytes) {
        text += new TextDecoder().decode(bytes);
      },
      onClose() {},
    });
    await pause(5);
    await port?.write("!\r");
    await port?.write("?\r");
    expect(text).toBe("+0.03935\r");
    bench.close();
  });

  // By the clock of this computer, twenty times as fast; the tool's clock runs as fast.
  it("walks by ear with the session reducer from lifters to the first kept stations", async () => {
    const rate = 20;
    const job = benchJob({ walk: ["1I", "1E"] });
    const bench = createSimulatedBench({ job, seed: 3, rate });
    const clock = new SessionClock(0, () => performance.now() * rate);
    const run = new SessionRun(job);
    const outcomes: Outcome[] = [];
    const tell = (heard: readonly Outcome[]) => {
      for (const outcome of heard) {
        outcomes.push(outcome);
        bench.hear(outcome);
      }
    };
    const moveOn = () => {
      const due = run.silenceDueMs();
      const t = clock.nowMs();
      if (due !== null && due <= t) tell(run.apply({ type: "silence", t: Math.max(run.tMs, due) }));
      const next = run.guideNext();
      if (next !== null) tell(run.apply({ type: "step", t: Math.max(run.tMs, t), step: next.step }));
    };
    for (const [gauge, make] of bench.ports) {
      const splitter = new LineSplitter();
      await make().open({
        onBytes(bytes) {
          for (const line of splitter.push(bytes)) {
            tell(run.apply({ type: "line", t: Math.max(run.tMs, clock.nowMs()), gauge, line }));
            moveOn();
          }
        },
        onClose() {},
      });
    }
    bench.run(true);
    const end = performance.now() + 15_000;
    while (!run.complete && performance.now() < end) await pause(10);
    bench.close();
    const kept = outcomes.filter((outcome) => outcome.type === "station" && !outcome.again);
    expect(
      kept.map((outcome) => (outcome.type === "station" ? `${outcome.bore} ${outcome.place.height}` : "")),
    ).toEqual(["1I upper", "1I lower", "1E upper", "1E lower"]);
    expect(run.complete).toBe(true);
    const zero = outcomes.find((outcome) => outcome.type === "zero");
    const first = outcomes.find((outcome) => outcome.type === "station");
    expect((first?.t ?? 0) - (zero?.t ?? 0)).toBeLessThan(30_000);
  });
});
