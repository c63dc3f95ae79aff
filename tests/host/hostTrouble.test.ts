import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { heldJob } from "./benchFiles.ts";
import { ScriptedCable } from "./scriptedPort.ts";

let folder: string;
let host: HostService;
let events: HostEvent[];
let pedal: ScriptedCable;
/** While true, the disk refuses every write as a full one does. */
let diskIsFull: boolean;
/** While true, a file says that it could not be closed, though it was. */
let closeFails: boolean;

const refusing = async () => {
  throw Object.assign(new Error("no space"), { code: "ENOSPC" });
};
const until = async (what: string, condition: () => boolean) => {
  for (let turn = 0; turn < 1000 && !condition(); turn += 1) await new Promise((resolve) => setTimeout(resolve, 5));
  expect(condition(), what).toBe(true);
};

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-trouble-"));
  events = [];
  pedal = new ScriptedCable();
  diskIsFull = false;
  closeFails = false;
  host = await HostService.open({
    shell: "window",
    folder,
    newPort: () => pedal.newPort(),
    file: {
      retryMs: 10,
      wrapTarget: (target) => ({
        ...target,
        write: (...asked) => (diskIsFull ? refusing() : target.write(...asked)),
        async close() {
          await target.close();
          if (closeFails) throw new Error("the disk did not close it");
        },
      }),
    },
    ports: (onChange) => new PortList(onChange, async () => []),
  });
  host.listen((event) => events.push(event));
});
afterEach(async () => {
  diskIsFull = false;
  closeFails = false;
  await host.close().catch(() => {});
  await rm(folder, { recursive: true, force: true });
});

const call = (method: string, input: unknown) => host.call(method, input, { mayAct: true });
const note = (text: string) => call("session.act", { action: { type: "note", text } });
const last = <T extends HostEvent["type"]>(type: T) =>
  events.findLast((event): event is Extract<HostEvent, { type: T }> => event.type === type);

/** What a page that is loaded now is told of the session. */
function loaded() {
  const told: HostEvent[] = [];
  host.listen((event) => told.push(event))();
  const session = told.find((event) => event.type === "session");
  return session?.type === "session" ? session.session : null;
}

describe("the page and the session", () => {
  it("is told that none is open when a new one could not be begun", async () => {
    expect(await call("session.new", { job: heldJob })).toMatchObject({ ok: true });
    await rm(folder, { recursive: true });
    expect(await call("session.new", { job: heldJob })).toMatchObject({ ok: false });
    expect(last("session")).toEqual({ type: "session", session: null });
  });

  it("is told that none is open when closing it went wrong", async () => {
    await call("session.new", { job: heldJob });
    closeFails = true;
    expect(await call("session.close", {})).toMatchObject({ ok: false });
    expect(last("session")).toEqual({ type: "session", session: null });
  });

  it("is shown only what is on disk when it is loaded while the disk refuses", async () => {
    await call("session.new", { job: heldJob });
    await note("kept");
    await until("kept", () => last("view")?.view.n === 1);
    diskIsFull = true;
    await note("not kept");
    await until("trouble", () => last("saved")?.trouble != null);
    expect(loaded()?.view.n).toBe(1);
    expect(loaded()?.view.bores).toHaveLength(2);
    diskIsFull = false;
    await until("saved", () => last("saved")?.pending === 0);
    expect(loaded()?.view.n).toBe(2);
  });

  it("has its foot switch still when leaving was refused for what is not saved", async () => {
    await call("session.new", { job: heldJob });
    expect(await call("switch.connect", { settings: { path: "/dev/pedal" } })).toMatchObject({ ok: true });
    diskIsFull = true;
    await note("not kept");
    await until("trouble", () => last("saved")?.trouble != null);
    await expect(host.close()).rejects.toThrow("NOT SAVED");
    pedal.send("P1\r");
    expect(last("switch")).toMatchObject({ link: "open", line: "P1" });
    expect(loaded()).not.toBeNull();
  });

  it("is left with all ports closed when closing it went wrong", async () => {
    await call("session.new", { job: heldJob });
    await call("switch.connect", { settings: { path: "/dev/pedal" } });
    closeFails = true;
    await expect(host.close()).rejects.toThrow("did not close it");
    expect(last("switch")).toMatchObject({ link: "closed" });
  });
});
