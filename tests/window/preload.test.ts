import { beforeEach, expect, test, vi } from "vitest";
import type { Bridge, HostEvent } from "../../core/bridge/messages.ts";

const electron = vi.hoisted(() => ({
  exposed: new Map<string, unknown>(),
  heard: new Map<string, (event: unknown, said: unknown) => void>(),
  invoked: [] as unknown[][],
}));
vi.mock("electron", () => ({
  contextBridge: { exposeInMainWorld: (name: string, api: unknown) => electron.exposed.set(name, api) },
  ipcRenderer: {
    on: (channel: string, listener: (event: unknown, said: unknown) => void) => electron.heard.set(channel, listener),
    invoke: async (...args: unknown[]) => {
      electron.invoked.push(args);
      return { ok: true, value: {} };
    },
  },
}));

const say = (said: HostEvent) => electron.heard.get("borewright:event")?.({}, said);
const saved = (pending: number): HostEvent => ({ type: "saved", pending, trouble: null });
let bridge: Bridge;

beforeEach(async () => {
  electron.exposed.clear();
  electron.heard.clear();
  electron.invoked.length = 0;
  vi.resetModules();
  await import("../../electron/preload/preload.ts");
  bridge = electron.exposed.get("borewright") as Bridge;
});

test("one thing is exposed, and one channel listened to", () => {
  expect([...electron.exposed.keys()]).toEqual(["borewright"]);
  expect([...electron.heard.keys()]).toEqual(["borewright:event"]);
});

test("a call goes up on its one channel with method and input", async () => {
  await bridge.call("sessions.list", {});
  expect(electron.invoked).toEqual([["borewright:call", "sessions.list", {}]]);
});

test("what was said before anyone listened is told once, in order, before what is said later", async () => {
  say(saved(1));
  say(saved(2));
  const first: HostEvent[] = [];
  bridge.listen((event) => first.push(event));
  expect(first).toEqual([]);
  await Promise.resolve();
  say(saved(3));
  const second: HostEvent[] = [];
  bridge.listen((event) => second.push(event));
  await Promise.resolve();
  expect(first).toEqual([saved(1), saved(2), saved(3)]);
  expect(second).toEqual([]);
});

test("who stops hears no more, not even what was waiting; another with the same function does", async () => {
  say(saved(1));
  const heard: HostEvent[] = [];
  const listener = (event: HostEvent) => heard.push(event);
  const stop = bridge.listen(listener);
  bridge.listen(listener);
  stop();
  await Promise.resolve();
  expect(heard).toEqual([]);
  say(saved(2));
  expect(heard).toEqual([saved(2)]);
});
