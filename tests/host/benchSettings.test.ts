import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { ScriptedCable } from "./scriptedPort.ts";

let folder: string;
let host: HostService;
let cable: ScriptedCable;
let events: HostEvent[];
const boss = { mayAct: true };

async function openHost(): Promise<HostService> {
  const opened = await HostService.open({
    shell: "loopback",
    folder,
    newPort: () => cable.newPort(),
    ports: (onChange) => new PortList(onChange, async () => []),
  });
  opened.listen((event) => events.push(event));
  return opened;
}

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-settings-"));
  cable = new ScriptedCable();
  events = [];
  host = await openHost();
});
afterEach(async () => {
  await host.close();
  await rm(folder, { recursive: true, force: true });
});

describe("settings of the bench", () => {
  const read = async () => (await host.call("settings.read", {}, boss)) as { ok: true; value: { settings: unknown } };

  it("outlast the program, the last change winning", async () => {
    expect((await read()).value.settings).toBeNull();
    const changes = Array.from({ length: 20 }, (_, loudness) => ({ theme: "dark", loudness }));
    await Promise.all(changes.map((settings) => host.call("settings.keep", { settings }, boss)));
    await host.close();
    host = await openHost();
    expect((await read()).value.settings).toEqual({ theme: "dark", loudness: 19 });
  });

  it("that can not be read are put aside and not written over", async () => {
    await writeFile(join(folder, "settings.json"), '{"theme": "da');
    expect((await read()).value.settings).toBeNull();
    await host.call("settings.keep", { settings: { theme: "light" } }, boss);
    expect(await readFile(join(folder, "settings.unreadable.json"), "utf8")).toBe('{"theme": "da');
    expect((await readdir(folder)).sort()).toEqual(["settings.json", "settings.unreadable.json"]);
  });

  it("are looked at, not changed, by who may only look", async () => {
    expect(await host.call("settings.read", {}, { mayAct: false })).toMatchObject({ ok: true });
    expect(await host.call("settings.keep", { settings: {} }, { mayAct: false })).toMatchObject({ ok: false });
  });
});

describe("a foot switch on a serial line", () => {
  const connect = () => host.call("switch.connect", { settings: { path: "/dev/pedal" } }, boss);
  const told = () => events.filter((event) => event.type === "switch");

  it("tells each pedal by the line it sends, whether a session is open or not", async () => {
    expect(await connect()).toMatchObject({ ok: true });
    cable.send("P1\r\n\r\nP2");
    cable.send("\r");
    expect(told().slice(1)).toEqual([
      { type: "switch", link: "open", path: "/dev/pedal" },
      { type: "switch", link: "open", path: "/dev/pedal", line: "P1" },
      { type: "switch", link: "open", path: "/dev/pedal", line: "P2" },
    ]);
    await host.call("switch.disconnect", {}, boss);
    expect(told().at(-1)).toEqual({ type: "switch", link: "closed", path: "/dev/pedal" });
  });

  it("takes no line that broke off for a pedal", async () => {
    await connect();
    cable.send("P1\r");
    cable.send("P");
    await new Promise((resolve) => setTimeout(resolve, 700));
    cable.send("2\rP2\r");
    expect(told().flatMap((event) => (event.line === undefined ? [] : [event.line]))).toEqual(["P1", "P2"]);
  });

  it("says so when its cable is pulled", async () => {
    await connect();
    cable.pull();
    expect(told().at(-1)).toEqual({ type: "switch", link: "lost", path: "/dev/pedal" });
  });
});
