import { describe, it } from "vitest";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { PseudoTerminal } from "../host/pseudoTerminal.ts";
import { ScriptedCable } from "../host/scriptedPort.ts";
import { gaugePortContract } from "./gaugePort.ts";

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
