import { spawn, spawnSync } from "node:child_process";
import { closeSync, constants, openSync, readSync, writeSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { heldJob } from "./benchFiles.ts";

const PROGRAM = fileURLToPath(new URL("../../dist/cli/borewright.mjs", import.meta.url));

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-process-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

/** Writes until a pipe takes no more, or reads until it has no more; answers how many bytes. */
function pump(fd: number, step: typeof writeSync | typeof readSync): number {
  const piece = new Uint8Array(512);
  for (let done = 0; ; ) {
    try {
      done += (step as (fd: number, piece: Uint8Array) => number)(fd, piece);
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === "EAGAIN") return done;
      throw error;
    }
  }
}

describe.skipIf(process.platform === "win32")("the command line as a process (the built one)", () => {
  it("ends with the command's status however late its output is read", async () => {
    const pipe = join(folder, "pipe");
    expect(spawnSync("mkfifo", [pipe]).status).toBe(0);
    // Opened apart: an end that a process is given is made one that waits.
    const reader = openSync(pipe, constants.O_RDONLY | constants.O_NONBLOCK);
    const writer = openSync(pipe, constants.O_WRONLY | constants.O_NONBLOCK);
    try {
      const full = pump(writer, writeSync);
      const child = spawn(process.execPath, [PROGRAM, "--version"], { stdio: ["ignore", writer, "inherit"] });
      let status: number | null = null;
      const ended = new Promise<void>((resolve) => {
        child.once("exit", (code) => {
          status = code;
          resolve();
        });
      });
      await new Promise((resolve) => setTimeout(resolve, 1500));
      let read = pump(reader, readSync);
      await ended;
      read += pump(reader, readSync);
      expect(status).toBe(0);
      expect(read).toBeGreaterThan(full);
    } finally {
      closeSync(reader);
      closeSync(writer);
    }
  });

  it("is ended by the first Ctrl-C while nothing is measured yet", async () => {
    const job = join(folder, "a.job.json");
    await writeFile(job, JSON.stringify(heldJob));
    const session = join(folder, "a.bwsession");
    const child = spawn(process.execPath, [PROGRAM, "walk", "--job", job, "--session", session, "--feed", "-"], {
      stdio: ["pipe", "ignore", "inherit"],
    });
    const ended = new Promise<string>((resolve) => {
      child.once("exit", (code, signal) => resolve(signal ?? `${code}`));
    });
    await new Promise((resolve) => setTimeout(resolve, 1500));
    child.kill("SIGINT");
    const late = new Promise<string>((resolve) => setTimeout(() => resolve("it did not end"), 5000).unref());
    const how = await Promise.race([ended, late]);
    child.kill("SIGKILL");
    expect(how).toBe("SIGINT");
  });
});
