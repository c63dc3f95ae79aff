import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, readdir, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Locator, type Page } from "@playwright/test";
import { findBrowser } from "../browser.mjs";

const TOP = fileURLToPath(new URL("../..", import.meta.url));

/** The built program in its loopback shell, with its page in a real browser and a folder of its own. */
export class Program {
  readonly folder: string;
  readonly address: string;
  readonly page: Page;
  readonly #child: ChildProcess;
  readonly #browser: Browser;

  private constructor(folder: string, address: string, page: Page, child: ChildProcess, browser: Browser) {
    this.folder = folder;
    this.address = address;
    this.page = page;
    this.#child = child;
    this.#browser = browser;
  }

  /** @param script what is run: the built server, or what `npm start` runs. */
  static async start(folder?: string, script = "dist/loopback/server.mjs"): Promise<Program> {
    const own = folder ?? (await mkdtemp(join(tmpdir(), "borewright-e2e-")));
    // Without a display, as on this machine or not, it is the loopback shell that is tried.
    const { DISPLAY: _x, WAYLAND_DISPLAY: _wayland, ...environment } = process.env;
    const child = spawn(process.execPath, [join(TOP, script), "--no-open"], {
      env: { ...environment, BOREWRIGHT_FOLDER: own },
      stdio: ["ignore", "pipe", "inherit"],
    });
    const address = await new Promise<string>((resolve, reject) => {
      let text = "";
      child.stdout?.on("data", (bytes: Buffer) => {
        text += bytes.toString("utf8");
        const found = /http:\/\/127\.0\.0\.1:\S+/.exec(text);
        if (found !== null) resolve(found[0]);
      });
      child.once("exit", () => reject(new Error(`the program ended before it said its address: ${text}`)));
    });
    const path = findBrowser();
    const browser = await chromium.launch({
      ...(path === null ? {} : { executablePath: path }),
      args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
    });
    const context = await browser.newContext({ viewport: { width: 1280, height: 720 } });
    const page = await context.newPage();
    await page.goto(address);
    return new Program(own, address, page, child, browser);
  }

  /** Path of the one session file in the folder, once it is there. */
  async sessionPath(): Promise<string> {
    for (let tries = 0; tries < 200; tries += 1) {
      const name = (await readdir(this.folder)).find((entry) => entry.endsWith(".bwsession"));
      if (name !== undefined) return join(this.folder, name);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    throw new Error("no session file came");
  }

  async close(options: { readonly keep?: boolean } = {}): Promise<void> {
    await this.#browser.close();
    const ended = new Promise((resolve) => this.#child.once("exit", resolve));
    this.#child.kill("SIGTERM");
    await ended;
    if (options.keep !== true) await rm(this.folder, { recursive: true, force: true });
  }
}

/** Presses a button by keyboard alone, once it may be pressed: a key on one that may not is heard by nobody. */
export async function pressByKey(button: Locator): Promise<void> {
  await button.click({ trial: true });
  await button.press("Enter");
}

/** Begins a job from a job file at Start. */
export async function beginJob({ page, folder }: Program, job: object): Promise<void> {
  const path = join(folder, "walk.job.json");
  await writeFile(path, JSON.stringify(job));
  await page.getByRole("button", { name: "New job" }).click();
  await page.getByLabel("Job file").setInputFiles(path);
  await page.getByRole("button", { name: "Begin" }).click();
}

/** The program with the one session of a folder open for reading only. */
export async function lookAt(folder: string): Promise<Program> {
  const program = await Program.start(folder);
  await program.page.getByRole("button", { name: "Only look" }).click();
  await program.page.getByText("Only looking").waitFor();
  return program;
}

/** Connects a gauge at the Gauges place by the typed path of its port. */
export async function connectGauge(page: Page, id: string, path: string): Promise<void> {
  const section = page.locator(`section[aria-labelledby="gauge-${id}"]`);
  await section.getByLabel("Port", { exact: true }).selectOption({ label: "Another, typed" });
  await section.getByLabel("Path of the port").fill(path);
  await section.getByRole("button", { name: "Connect" }).click();
  await section.getByRole("button", { name: "Disconnect" }).waitFor();
}

/** All that the place Findings says; what only tells that a session is open for reading is left out. */
export async function findingsShown({ page }: Program): Promise<string> {
  await page
    .getByRole("navigation")
    .getByRole("button", { name: /^Findings/ })
    .click();
  await page.getByRole("heading", { name: "Findings" }).waitFor();
  const text = await page.locator("main").textContent();
  return (text ?? "").replace("This session is open for reading only; nothing can be entered.", "");
}
