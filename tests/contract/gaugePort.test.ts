import { describe, it } from "vitest";
import { parseJob } from "../../core/session/jobFile.ts";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { createSimulatedBench } from "../../electron/simulator/simulatedPorts.ts";
import { PseudoTerminal } from "../host/pseudoTerminal.ts";
import { ScriptedCable } from "../host/scriptedPort.ts";
import { gaugePortContract } from "./gaugePort.ts";

const simulatedJob = { format: "borewright/job", version: 1 };
const settings = (path: string) => ({ path, baud: 9600, framing: "8N1", dtr: true, rts: true });

gaugePortContract({
  name: "scripted port (stands in for a gauge)",
  async make() {
    const cable = new ScriptedCable();
    return {
      port: cable.newPort(),
      send: async (text) => cable.send(text),
      pull: async () => cable.pull(),
      received: () => cable.received,
      cleanUp: async () => {},
    };
  },
  makeAbsent() {
    const cable = new ScriptedCable();
    cable.plugged = false;
    return cable.newPort();
  },
});

gaugePortContract({
  name: "serial port on a pseudo-terminal (real binding, no hardware)",
  async make() {
    const terminal = await PseudoTerminal.make();
    return {
      port: new SerialGaugePort(settings(terminal.path)),
      send: (text) => terminal.send(text),
      pull: () => terminal.pull(),
      received: () => terminal.received,
      cleanUp: () => terminal.cleanUp(),
    };
  },
  makeAbsent: () => new SerialGaugePort(settings("/dev/borewright-no-such-port")),
});

gaugePortContract({
  name: "simulated gauge in this process (no hardware)",
  async make() {
    const bench = createSimulatedBench({ job: parseJob(simulatedJob), seed: 1 });
    const newPort = bench.ports.get("bore");
    if (newPort === undefined) throw new Error("the simulated bench has no bore gauge");
    return {
      port: newPort(),
      // It streams its place in the air by itself.
      send: null,
      pull: async () => bench.pull("bore"),
      received: null,
      cleanUp: async () => bench.close(),
    };
  },
  makeAbsent() {
    const bench = createSimulatedBench({ job: parseJob(simulatedJob), seed: 1 });
    bench.close();
    const newPort = bench.ports.get("bore");
    if (newPort === undefined) throw new Error("the simulated bench has no bore gauge");
    return newPort();
  },
});

const realPath = process.env.TEST_GAUGE_PORT;
if (realPath === undefined || realPath === "") {
  describe("GaugePort contract: real gauge", () => {
    it.skip("TEST_GAUGE_PORT is not set: no real gauge was tried", () => {});
  });
} else {
  gaugePortContract({
    name: `real gauge on ${realPath} (press its button, or let it stream)`,
    async make() {
      return {
        port: new SerialGaugePort(settings(realPath)),
        send: null,
        pull: null,
        received: null,
        cleanUp: async () => {},
      };
    },
    makeAbsent: null,
  });
}
