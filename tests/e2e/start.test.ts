import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { findBrowser } from "../browser.mjs";

const TOP = fileURLToPath(new URL("../..", import.meta.url));

describe.runIf(process.platform === "linux")("a start without a display", () => {
  let folder: string;
  let child: ChildProcess;
  let browser: Browser;
  let printed = "";
  let address = "";

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "borewright-start-"));
    const { DISPLAY: _x, WAYLAND_DISPLAY: _wayland, ...environment } = process.env;
    child = spawn(process.execPath, [join(TOP, "electron/start.mjs"), "--no-open"], {
      env: { ...environment, BOREWRIGHT_FOLDER: folder },
      stdio: ["ignore", "pipe", "inherit"],
    });
    address = await new Promise<string>((resolve, reject) => {
      child.once("exit", () => reject(new Error(`it ended before it said its address: ${printed}`)));
      child.stdout?.on("data", (bytes: Buffer) => {
        printed += bytes.toString("utf8");
        const found = /http:\/\/127\.0\.0\.1:\d+\/#code=\S+(?=\n)/.exec(printed);
        if (found !== null) resolve(found[0]);
      });
    });
    const path = findBrowser();
    browser = await chromium.launch({
      ...(path === null ? {} : { executablePath: path }),
      args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
    });
  });
  afterAll(async () => {
    await browser?.close();
    if (child !== undefined && child.exitCode === null) {
      const ended = new Promise((resolve) => child.once("exit", resolve));
      child.kill("SIGTERM");
      await ended;
    }
    await rm(folder, { recursive: true, force: true });
  });

  it("says in one line why there is no window, and in one the address", () => {
    const lines = printed.split("\n");
    expect(lines.filter((line) => line.startsWith("No window, as there is no display: "))).toHaveLength(1);
    expect(lines.filter((line) => line.includes(address))).toHaveLength(1);
  });

  it("gives nothing of the program to one who comes without the code", async () => {
    const { origin } = new URL(address);
    const entry = await (await fetch(`${origin}/`)).text();
    expect(entry).toContain("enter.js");
    expect(entry).not.toContain("assets/");
    const built = await readdir(join(TOP, "dist/renderer/assets"));
    expect(built.length).toBeGreaterThan(0);
    for (const path of [...built.map((name) => `assets/${name}`), "events"]) {
      const answer = await fetch(`${origin}/${path}`);
      expect(answer.ok, path).toBe(false);
      expect((await answer.text()).length, path).toBeLessThan(200);
    }
  });

  it("opens the program at the printed address, once", async () => {
    const first = await (await browser.newContext()).newPage();
    await first.goto(address);
    await first.getByRole("button", { name: "Try it with simulated gauges" }).waitFor();
    const second = await (await browser.newContext()).newPage();
    await second.goto(address);
    await second.getByText("This address was used before.").waitFor();
    expect(await second.getByRole("button").count()).toBe(0);
    await first.reload();
    await first.getByRole("button", { name: "Try it with simulated gauges" }).waitFor();
  });

  it("ends when it is told to, with its server", async () => {
    const ended = new Promise<number | null>((resolve) => child.once("exit", resolve));
    child.kill("SIGTERM");
    expect(await ended).toBe(0);
    await expect(fetch(address)).rejects.toThrow();
  });
});
