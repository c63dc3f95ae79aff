import { spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { HostEvent, MethodInput, MethodName, MethodOutput } from "../../core/bridge/messages.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { PseudoTerminal as LastingTerminal } from "../../electron/simulator/pseudoTerminal.ts";
import { throughWire } from "../gauge/teach/modelledWire.ts";
import { ModelledGaugeOnPort } from "./modelledPort.ts";
import { PseudoTerminal } from "./pseudoTerminal.ts";

const hasSocat = spawnSync("socat", ["-V"]).status === 0;
const job = {
  format: "borewright/job",
  version: 1,
  layout: "i4",
  gauges: [
    { id: "bore", role: "bore", sends: "press", unit: "in", resolution: "0.00005 in" },
    { id: "mic", role: "micrometer", unit: "in", resolution: "0.00005 in" },
  ],
};

interface Listed {
  readonly path: string;
  readonly vendorId?: string;
  readonly productId?: string;
  readonly serialNumber?: string;
}

let folder: string;
let host: HostService;
let events: HostEvent[];
let listed: Listed[];
let gauges: Map<string, ModelledGaugeOnPort>;

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));
const until = async (what: string, condition: () => boolean, withinMs = 30_000) => {
  const end = Date.now() + withinMs;
  while (!condition() && Date.now() < end) await pause(10);
  expect(condition(), what).toBe(true);
};

const openHost = async (real = false) => {
  events = [];
  host = await HostService.open({
    shell: "loopback",
    folder,
    ...(real
      ? {}
      : {
          newPort: (settings) => {
            const gauge = gauges.get(settings.path);
            if (gauge === undefined) throw new Error(`no gauge at ${settings.path}`);
            return gauge.newPort(settings);
          },
        }),
    ports: (onChange) => new PortList(onChange, async () => listed, 20),
  });
  host.listen((event) => events.push(event));
};

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-teach-"));
  listed = [];
  gauges = new Map();
});
afterEach(async () => {
  await host.close();
  await rm(folder, { recursive: true, force: true });
});

async function call<M extends MethodName>(method: M, input: MethodInput<M>): Promise<MethodOutput<M>> {
  const answer = await host.call(method, input, { mayAct: true });
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value as MethodOutput<M>;
}
const last = <T extends HostEvent["type"]>(type: T) =>
  events.findLast((event): event is Extract<HostEvent, { type: T }> => event.type === type);
const teach = () => last("teaching")?.teaching?.teach ?? null;
const traffic = () => events.flatMap((event) => (event.type === "traffic" ? event.entries : []));
const gaugeView = (id: string) => last("view")?.view.gauges.find((gauge) => gauge.id === id);

/** Plugs in a modelled gauge; `serialNumber` as its adapter has one. */
function plugIn(path: string, line: { baud: number; framing: string }, serialNumber?: string): ModelledGaugeOnPort {
  const gauge = gauges.get(path) ?? new ModelledGaugeOnPort(path, line);
  gauges.set(path, gauge);
  listed = [
    ...listed,
    { path, vendorId: "1a2b", productId: "7523", ...(serialNumber === undefined ? {} : { serialNumber }) },
  ];
  return gauge;
}

/** Presses until the teaching has found it. */
async function pressUntilFound(gauge: ModelledGaugeOnPort, end = "\r"): Promise<void> {
  const lines = ["+0.00150", "+0.00155", "-0.00005"];
  for (let press = 0; press < 12 && teach()?.state !== "found"; press += 1) {
    const heard = events.length;
    gauge.press(`${lines[press % 3]}${end}`);
    // A person presses when the screen says what became of the last press.
    await until("an answer to the press", () => events.slice(heard).some((event) => event.type === "teaching"));
    await pause(450);
  }
}

describe("teaching a gauge (host, model of the line)", () => {
  it.each([
    { baud: 9600, framing: "8N1" },
    { baud: 4800, framing: "7E2" },
    { baud: 2400, framing: "8N1" },
  ])("finds $baud $framing on a new port, keeps it, and connects it at the next start without asking", async (line) => {
    await openHost();
    await until("the empty list", () => last("ports") !== undefined);
    await pause(60);
    const gauge = plugIn("/dev/modelled", line, "A1");
    await until("the port", () => last("ports")?.ports.some(({ fresh }) => fresh) === true);
    await call("gauge.teach", { paths: ["/dev/modelled"] });
    await pause(1050);
    await pressUntilFound(gauge);
    const found = teach();
    expect(found).toMatchObject({ state: "found", setting: { ...line, dtr: true, rts: true }, unit: "in" });
    if (found === null) return;
    await call("gauge.teachStop", {});
    await call("profile.keep", {
      gauge: "bore",
      settings: { path: "/dev/modelled", ...found.setting, settleMs: found.settleMs },
      taught: { role: "bore", unit: "in", resolutionNm: found.resolutionNm ?? 0, sends: "press" },
    });
    await host.close();

    // Plugged in elsewhere: known by its number.
    listed = [];
    gauges.set("/dev/elsewhere", gauge);
    plugIn("/dev/elsewhere", line, "A1");
    await openHost();
    await call("session.new", { job });
    await until("connected", () => gaugeView("bore")?.link === "open");
    expect(gauge.openedBy).toMatchObject(line);
    await pause(200);
    gauge.press("+0.00150\r");
    await until("a reading", () => gaugeView("bore")?.lastNm === 38_100);
    expect(last("ports")?.ports).toMatchObject([{ path: "/dev/elsewhere", usedBy: "bore", fresh: false }]);

    await call("profile.forget", { gauge: "bore" });
    expect(last("profiles")?.profiles).toEqual([]);
    await call("session.close", {});
    await call("session.new", { job });
    await pause(150);
    expect(gauge.openedBy).toBeNull();
  });

  it("tells two adapters that look alike apart by a press, and does not guess which is which at the next start", async () => {
    const bore = plugIn("/dev/one", { baud: 9600, framing: "8N1" });
    const mic = plugIn("/dev/two", { baud: 4800, framing: "7E1" });
    await openHost();
    await until("the ports", () => last("ports")?.ports.length === 2);
    await call("gauge.teach", { paths: ["/dev/one", "/dev/two"] });
    expect(bore.openedBy).not.toBeNull();
    expect(mic.openedBy).not.toBeNull();
    await pause(1100);
    mic.press("+0.84200\r");
    await until("chosen", () => last("teaching")?.teaching?.chosen === "/dev/two");
    await until("the other let go", () => bore.openedBy === null);
    await pressUntilFound(mic);
    expect(teach()).toMatchObject({ state: "found", setting: { baud: 4800, framing: "7E2" } });
    await call("gauge.teachStop", {});
    await call("session.new", { job });
    await call("gauge.connect", { gauge: "mic", settings: { path: "/dev/two", baud: 4800, framing: "7E2" } });
    await call("gauge.connect", { gauge: "bore", settings: { path: "/dev/one" } });
    await call("session.close", {});
    await call("session.new", { job });
    await pause(150);
    expect(bore.openedBy).toBeNull();
    expect(mic.openedBy).toBeNull();
    expect(last("profiles")?.profiles).toMatchObject([
      { gauge: "mic", path: null, alike: true },
      { gauge: "bore", path: null, alike: true },
    ]);
  });

  it("does not take another adapter for a gauge's own because it stands at the same path", async () => {
    plugIn("/dev/one", { baud: 9600, framing: "8N1" }, "A1");
    await openHost();
    await until("the port", () => last("ports")?.ports.length === 1);
    await call("session.new", { job });
    await call("gauge.connect", { gauge: "bore", settings: { path: "/dev/one" } });
    await call("session.close", {});
    listed = [];
    const other = plugIn("/dev/one", { baud: 9600, framing: "8N1" }, "B2");
    await until("the other", () => last("profiles")?.profiles[0]?.path === null);
    await call("session.new", { job });
    await pause(150);
    expect(other.openedBy).toBeNull();
  });

  it("names a port that talks by itself, waits for the press, and lets a person take it", async () => {
    const talker = plugIn("/dev/one", { baud: 9600, framing: "8N1" });
    plugIn("/dev/two", { baud: 9600, framing: "8N1" });
    await openHost();
    await until("the ports", () => last("ports")?.ports.length === 2);
    await call("gauge.teach", { paths: ["/dev/one", "/dev/two"] });
    talker.press("+0.00150\r");
    await until("the talker", () => last("teaching")?.teaching?.ports[0]?.state === "talks");
    expect(last("teaching")?.teaching?.chosen).toBeNull();
    await call("gauge.teachTake", { path: "/dev/one" });
    await until("taken", () => last("teaching")?.teaching?.chosen === "/dev/one");
    await call("gauge.teachAsk", { text: "?\r" });
    expect(talker.written).toBe("?\r");
  });

  it("shows the raw traffic of a session's gauge with what was understood of it, in bounded memory", async () => {
    const bore = plugIn("/dev/one", { baud: 9600, framing: "8N1" }, "A1");
    await openHost();
    await until("the port", () => last("ports")?.ports.length === 1);
    await call("session.new", { job });
    await call("traffic.watch", { on: true });
    await call("gauge.connect", { gauge: "bore", settings: { path: "/dev/one" } });
    await pause(80);
    bore.press("+0.00150\r\n");
    bore.press("HELLO\r\n");
    await until("both lines", () => traffic().filter(({ direction }) => direction === "in").length === 2);
    expect(traffic()).toMatchObject([
      { direction: "port", path: "/dev/one", text: "opened, 9600, 8N1, DTR and RTS raised" },
      { direction: "in", hex: "2B 30 2E 30 30 31 35 30 0D 0A", text: "+0.00150", understood: "+0.00150 in", why: null },
      { direction: "in", text: "HELLO", understood: null, why: "a word, not a reading: look at the gauge's display" },
    ]);
    for (let index = 0; index < 2200; index += 1) bore.press(`+0.0${1000 + index}\r\n`);
    await call("traffic.watch", { on: false });
    events = [];
    await call("traffic.watch", { on: true });
    expect(traffic().length).toBeLessThanOrEqual(2000);
    expect(traffic().length).toBeGreaterThan(1500);
  });
});

describe.skipIf(!hasSocat)("teaching a gauge (socat pseudo-terminal, real serial port)", () => {
  it("finds what streams, a device that is no gauge, and 7 data bits read as 8", async () => {
    await openHost(true);
    // Stays when the port is opened anew at another setting.
    const terminal = new LastingTerminal(join(folder, "gauge"), () => {});
    await terminal.plugIn();
    try {
      await call("gauge.teach", { paths: [terminal.path] });
      await until("listened to", () => terminal.listened);
      for (let index = 0; index < 8; index += 1) {
        terminal.send(`-0.01${index} mm\r\n`);
        await pause(100);
      }
      await until("found", () => teach()?.state === "found");
      expect(teach()).toMatchObject({ unit: "mm", resolutionNm: 1000, sends: "stream", lineEnd: "CR LF" });

      await call("gauge.teach", { paths: [terminal.path] });
      const hello = setInterval(() => terminal.send("ready; menu 1-4; type help\r\n"), 120);
      await until("wrong", () => teach()?.state === "wrong").finally(() => clearInterval(hello));
      expect(teach()?.sentence).toContain("ready; menu");

      // A pseudo-terminal carries any byte: those of 7 data bits with even parity are made by the model.
      await call("gauge.teach", { paths: [terminal.path] });
      const seven = throughWire("+0.00150\r", { baud: 9600, framing: "7E1" }, { baud: 9600, framing: "8N1" });
      await pause(1100);
      terminal.send(String.fromCharCode(...seven));
      await until("seven bits", () => teach()?.setting.framing === "7E2");
      expect(teach()?.tried).toMatchObject([{ heard: "7 data bits with even parity, read as 8" }]);
      await call("gauge.teachStop", {});
    } finally {
      await terminal.close();
    }
  });

  it("says what is wrong with a port that is not there, and finds the gauge once it is", async () => {
    await openHost(true);
    const path = join(folder, "later");
    await call("gauge.teach", { paths: [path] });
    await until("trouble", () => last("teaching")?.teaching?.ports[0]?.state === "trouble");
    expect(last("teaching")?.teaching?.ports[0]?.why).toContain("plug the gauge in");
    const terminal = await PseudoTerminal.make(path);
    try {
      await until("open", () => last("teaching")?.teaching?.ports[0]?.state === "quiet");
      await pause(1100);
      for (const line of ["+0.00150\r", "+0.00155\r", "+0.00160\r"]) {
        await terminal.send(line);
        await pause(600);
      }
      await until("found", () => teach()?.state === "found");
    } finally {
      await call("gauge.teachStop", {});
      await terminal.cleanUp();
    }
  });
});
