import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Page } from "@playwright/test";
import { findBrowser } from "../browser.mjs";
import { fixed } from "./measure.ts";

const LOADS = 15;
const EMPTY = '<!doctype html><html lang="en"><title>Empty</title><body><button>Start</button></body></html>';

/** The program's page until its first button can be pressed, beside a page with a button and nothing else. */
export async function startUpTable() {
  const built = spawnSync(process.execPath, ["electron/build.mjs", "renderer", "loopback"], { stdio: "inherit" });
  if (built.status !== 0) throw new Error("the program could not be built");
  const folder = await mkdtemp(join(tmpdir(), "borewright-bench-start-"));
  const program = spawn(process.execPath, ["dist/loopback/server.mjs", "--no-open"], {
    env: { ...process.env, BOREWRIGHT_FOLDER: folder },
    stdio: ["ignore", "pipe", "inherit"],
  });
  const server = createServer((_, response) => response.setHeader("content-type", "text/html").end(EMPTY));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const path = findBrowser();
  const browser = await chromium.launch({
    ...(path === null ? {} : { executablePath: path }),
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 720 } });
    const own = await addressOf(program);
    await usableMs(page, own, ".places, main");
    const { origin } = new URL(own);
    const bare = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
    const times = { own: [] as number[], bare: [] as number[] };
    for (let load = 0; load < LOADS; load += 1) {
      times.own.push(await usableMs(page, `${origin}/`, "main"));
      times.bare.push(await usableMs(page, bare, "body"));
    }
    const best = (list: readonly number[]) => Math.min(...list);
    const middle = (list: readonly number[]) => list.toSorted((a, b) => a - b)[list.length >> 1] as number;
    return [best, middle].map((of) => ({
      "of so many loads": `${LOADS}, ${of === best ? "shortest" : "median"}`,
      "ms program": fixed(of(times.own), 0),
      "ms empty page": fixed(of(times.bare), 0),
      ratio: fixed(of(times.own) / of(times.bare), 2),
    }));
  } finally {
    await browser.close();
    server.close();
    const ended = new Promise((resolve) => program.once("exit", resolve));
    program.kill("SIGTERM");
    await ended;
    await rm(folder, { recursive: true, force: true });
  }
}

async function addressOf(program: ChildProcess): Promise<string> {
  let printed = "";
  return new Promise((resolve, reject) => {
    program.once("exit", () => reject(new Error(`the program ended before it said its address: ${printed}`)));
    program.stdout?.on("data", (bytes: Buffer) => {
      printed += bytes.toString("utf8");
      const found = /http:\/\/127\.0\.0\.1:\S+/.exec(printed);
      if (found !== null) resolve(found[0]);
    });
  });
}

/** Milliseconds from the navigation until a button inside `within` may be pressed and has been painted. */
async function usableMs(page: Page, address: string, within: string): Promise<number> {
  await page.goto(address, { waitUntil: "commit" });
  const handle = await page.waitForFunction(
    (selector) =>
      document.querySelector(`:is(${selector}) button:not([disabled])`) === null ? null : performance.now(),
    within,
    { polling: "raf", timeout: 120_000 },
  );
  return (await handle.jsonValue()) as number;
}
