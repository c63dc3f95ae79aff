import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PortList } from "../../electron/host/portList.ts";
import { portTrouble } from "../../electron/host/portTrouble.ts";
import { SerialGaugePort } from "../../electron/host/serialGaugePort.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";

const silent = { onBytes: () => {}, onClose: () => {} };
const settings = (path: string, framing = "8N1") => ({ path, baud: 9600, framing, dtr: true, rts: true });

describe("SerialGaugePort", () => {
  it("says that another program has the port", async () => {
    const terminal = await PseudoTerminal.make();
    const first = new SerialGaugePort(settings(terminal.path));
    try {
      await first.open(silent);
      await expect(new SerialGaugePort(settings(terminal.path)).open(silent)).rejects.toMatchObject({
        code: "busy",
        message: `Port ${terminal.path} is in use by another program: close it there, then connect again.`,
      });
    } finally {
      await first.close();
      await terminal.cleanUp();
    }
  });

  it("says that a file is no port", async () => {
    const folder = await mkdtemp(join(tmpdir(), "borewright-port-"));
    const file = join(folder, "notes.txt");
    await writeFile(file, "no gauge");
    await expect(new SerialGaugePort(settings(file)).open(silent)).rejects.toMatchObject({ code: "not-a-port" });
    await rm(folder, { recursive: true });
  });

  it("refuses a framing it cannot read before it touches the port", async () => {
    await expect(new SerialGaugePort(settings("/dev/null", "9X3")).open(silent)).rejects.toThrow('"9X3"');
  });

  it("names the group that may use a port", () => {
    const unwritten = portTrouble("/dev/tty", new Error("line noise"), "written to");
    expect(unwritten.message).toBe("Port /dev/tty could not be written to (line noise).");
    const trouble = portTrouble("/dev/tty", new Error("Error: Permission denied, cannot open /dev/tty"));
    expect(trouble).toMatchObject({ code: "not-allowed", path: "/dev/tty" });
    if (process.platform === "linux") expect(trouble.message).toMatch(/in the group "(tty|root)"/);
  });
});

describe("PortList", () => {
  it("never asks again before the system has answered, and tells of changes only", async () => {
    let asking = 0;
    let most = 0;
    let calls = 0;
    const changes: string[][] = [];
    const answers = [[], [], [{ path: "/dev/ttyUSB0", manufacturer: "Adapter", serialNumber: "A1" }], []];
    const list = new PortList(
      (ports) => changes.push(ports.map((port) => port.label)),
      async () => {
        asking += 1;
        most = Math.max(most, asking);
        await new Promise((resolve) => setTimeout(resolve, 15));
        asking -= 1;
        calls += 1;
        return answers[Math.min(calls - 1, answers.length - 1)] ?? [];
      },
      1,
    );
    list.start();
    while (calls < 6) await Promise.all([list.ask(), new Promise((resolve) => setTimeout(resolve, 3))]);
    list.stop();
    expect(most).toBe(1);
    expect(changes).toEqual([["/dev/ttyUSB0 (Adapter, no. A1)"], []]);
  });

  it("has no ports where the system cannot say", async () => {
    const list = new PortList(
      () => {},
      async () => {
        throw new Error("no such program");
      },
    );
    expect(await list.ask()).toEqual([]);
  });
});
