import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, readdir, rm, stat, writeFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HostService } from "../../electron/host/hostService.ts";
import { PortList } from "../../electron/host/portList.ts";
import { SessionFile } from "../../electron/host/sessionFile.ts";
import { heldJob } from "./benchFiles.ts";
import { runHere } from "./runHere.ts";

let folder: string;
let hosts: HostService[];
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-programs-"));
  hosts = [];
});
afterEach(async () => {
  for (const host of hosts) await host.close();
  await rm(folder, { recursive: true, force: true });
});

async function shell(kind: "window" | "loopback") {
  const host = await HostService.open({
    shell: kind,
    folder,
    ports: (onChange) => new PortList(onChange, async () => []),
  });
  hosts.push(host);
  return (method: string, input: object) => host.call(method, input, { mayAct: true });
}

describe("two programs on one session", () => {
  it("are refused by either shell and the command line while one of them has it, and may look", async () => {
    const window = await shell("window");
    const begun = await window("session.new", { job: heldJob });
    const { id } = (begun as { value: { id: string } }).value;
    const path = join(folder, id);
    const loopback = await shell("loopback");
    expect(await loopback("session.open", { id, readOnly: false })).toMatchObject({
      code: "locked",
      message: expect.stringMatching(/is open in another program \(process \d+.*open it for reading only/),
    });
    expect(await loopback("session.open", { id, readOnly: true })).toMatchObject({ ok: true });
    await loopback("session.close", {});
    const job = join(folder, "held.job.json");
    const feed = join(folder, "held.feed.ndjson");
    await writeFile(job, JSON.stringify(heldJob));
    await writeFile(feed, '{"t":0,"step":"lifters"}\n{"t":10,"gauge":"mic","line":"+0.84200"}\n');
    const resume = () => runHere("walk", "--job", job, "--session", path, "--resume", "--feed", feed);
    const refused = await resume();
    expect(refused.status).toBe(2);
    expect(refused.err).toMatch(/is open in another program/);

    await window("session.close", {});
    expect((await resume()).status).toBe(3);
    expect(await loopback("session.open", { id, readOnly: false })).toMatchObject({ ok: true });
    await loopback("session.close", {});
    expect((await SessionFile.look(path)).read).toMatchObject({ broken: [], torn: null, differences: [] });
    expect((await readdir(folder)).filter((name) => /\.(lock|tmp)/.test(name))).toEqual([]);
  });

  it("go on after one that died with its lock in place", async () => {
    const window = await shell("window");
    const begun = await window("session.new", { job: heldJob });
    const { id } = (begun as { value: { id: string } }).value;
    await window("session.close", {});
    const child = spawn(process.execPath, ["-e", ""]);
    await once(child, "exit");
    const holder = {
      pid: child.pid,
      host: hostname(),
      started: "2026-01-01T00:00:00.000Z",
      ticks: null,
      nonce: "dead",
    };
    await writeFile(join(folder, `${id}.lock`), `${JSON.stringify(holder)}\n`);
    expect(await window("session.open", { id, readOnly: false })).toMatchObject({ ok: true });
    await window("session.close", {});
    expect((await readdir(folder)).filter((name) => name.includes(".lock"))).toEqual([]);
  });
});

describe.skipIf(process.platform === "win32")("what is written", () => {
  it("is no program and is written by its owner alone, under a name that starts with no dot", async () => {
    const window = await shell("window");
    await window("session.new", { job: { ...heldJob, title: '../..//Pipe | quote " ünd $(so)' } });
    const [name = "", ...more] = (await readdir(folder)).filter((each) => each.endsWith(".bwsession"));
    expect(more).toEqual([]);
    expect(name).toMatch(/^\d{4}-\d\d-\d\d-[a-z0-9-]+\.bwsession$/);
    const { mode } = await stat(join(folder, name));
    expect(mode & 0o133).toBe(0);
    await window("session.close", {});
  });
});
