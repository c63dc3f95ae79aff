import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, rm, utimes, writeFile } from "node:fs/promises";
import { hostname, tmpdir, uptime } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { LockedError, LockFile } from "../../electron/host/lockFile.ts";

let folder: string;
let session: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-lock-"));
  session = join(folder, "a.bwsession");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const lockText = (over: object) =>
  `${JSON.stringify({ pid: process.pid, host: hostname(), started: "2026-01-01T00:00:00.000Z", ticks: null, nonce: "x", ...over })}\n`;

async function endedProcess(): Promise<number> {
  const child = spawn(process.execPath, ["-e", ""]);
  await new Promise((resolve) => child.once("exit", resolve));
  return child.pid as number;
}

describe("LockFile", () => {
  it("is held by one at a time and names the holder", async () => {
    const lock = await LockFile.take(session);
    const second = LockFile.take(session);
    await expect(second).rejects.toThrow(LockedError);
    await expect(LockFile.take(session)).rejects.toThrow(`process ${process.pid}`);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
    await (await LockFile.take(session)).release();
  });

  it("is taken over when its process is gone", async () => {
    await writeFile(`${session}.lock`, lockText({ pid: await endedProcess() }));
    const lock = await LockFile.take(session);
    expect(JSON.parse(await readFile(`${session}.lock`, "utf8")).pid).toBe(process.pid);
    await lock.release();
  });

  it.runIf(process.platform === "linux")("is taken over when another process has that id now", async () => {
    await writeFile(`${session}.lock`, lockText({ ticks: "another boot/1" }));
    await (await LockFile.take(session)).release();
  });

  it("is taken over when it was taken before this computer was started, where no process tells its start", async () => {
    const before = new Date(Date.now() - uptime() * 1000 - 3_600_000).toISOString();
    await writeFile(`${session}.lock`, lockText({ started: before }));
    await (await LockFile.take(session)).release();
  });

  it("is honoured when it was taken since this computer was started, and says what to do if its program is gone", async () => {
    await writeFile(`${session}.lock`, lockText({ started: new Date().toISOString() }));
    await expect(LockFile.take(session)).rejects.toThrow(
      `if no such program runs, as after a power cut, remove ${session}.lock`,
    );
  });

  it("is honoured when it is held on another computer", async () => {
    await writeFile(`${session}.lock`, lockText({ host: "another-bench", pid: await endedProcess() }));
    await expect(LockFile.take(session)).rejects.toThrow("on another-bench");
  });

  it("is honoured while half written and taken over when that was long ago", async () => {
    await writeFile(`${session}.lock`, "");
    await expect(LockFile.take(session)).rejects.toThrow("just being opened");
    const longAgo = new Date(Date.now() - 60_000);
    await utimes(`${session}.lock`, longAgo, longAgo);
    await (await LockFile.take(session)).release();
  });

  it("is taken over when it was left half written before the clock was set back", async () => {
    await writeFile(`${session}.lock`, "");
    const toCome = new Date(Date.now() + 3_600_000);
    await utimes(`${session}.lock`, toCome, toCome);
    await (await LockFile.take(session)).release();
  });

  it("goes to exactly one of many that find the same stale lock", async () => {
    await writeFile(`${session}.lock`, lockText({ pid: await endedProcess() }));
    const takers = await Promise.allSettled(Array.from({ length: 8 }, () => LockFile.take(session)));
    expect(takers.filter((taker) => taker.status === "fulfilled")).toHaveLength(1);
    expect(await readdir(folder)).toEqual(["a.bwsession.lock"]);
  });

  it("does not remove a lock that is someone else's by now", async () => {
    const lock = await LockFile.take(session);
    await writeFile(`${session}.lock`, lockText({ nonce: "of another" }));
    await lock.release();
    expect(await readdir(folder)).toEqual(["a.bwsession.lock"]);
  });
});
