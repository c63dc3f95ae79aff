import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";

const top = fileURLToPath(new URL("../..", import.meta.url));
let folder: string;
let started: ChildProcess | null = null;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-start-"));
});
afterEach(async () => {
  started?.kill("SIGKILL");
  await rm(folder, { recursive: true, force: true });
});

describe("npm start without a display", () => {
  it.runIf(process.platform === "linux")(
    "says why there is no window, prints the address, and ends when told to",
    async () => {
      const { DISPLAY: _x, WAYLAND_DISPLAY: _wayland, ...environment } = process.env;
      const child = spawn(process.execPath, [join(top, "electron/start.mjs"), "--no-open"], {
        env: { ...environment, BOREWRIGHT_FOLDER: folder },
        stdio: ["ignore", "pipe", "inherit"],
      });
      started = child;
      let out = "";
      const address = await new Promise<string>((resolve, reject) => {
        child.once("exit", () => reject(new Error(`it ended early: ${out}`)));
        child.stdout?.on("data", (bytes: Buffer) => {
          out += bytes.toString("utf8");
          const found = /http:\/\/127\.0\.0\.1:\d+\/#code=\S+/.exec(out);
          if (found !== null) resolve(found[0]);
        });
      });
      expect(out).toMatch(/^No window, as there is no display: /m);
      const page = await fetch(address);
      expect(await page.text()).toContain("enter.js");
      const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
      child.kill("SIGTERM");
      expect(await ended).toBe(0);
      await expect(fetch(address)).rejects.toThrow();
    },
  );
});

describe("the package's command", () => {
  it("runs from the checkout and ends with the command's status", async () => {
    const status = (...args: string[]) =>
      new Promise<number | null>((resolve) => {
        spawn(process.execPath, [join(top, "electron/cli/bin.mjs"), ...args], { stdio: "ignore" }).once(
          "exit",
          resolve,
        );
      });
    expect(await status("--version")).toBe(0);
    expect(await status("walk")).toBe(2);
  });
});
