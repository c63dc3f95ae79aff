import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { chmod, mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from "node:fs/promises";
import { createServer, request, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, type BrowserContext, chromium, type Page } from "@playwright/test";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import { findBrowser } from "../browser.mjs";

const SERVER = fileURLToPath(new URL("../../dist/loopback/server.mjs", import.meta.url));

interface Running {
  readonly child: ChildProcess;
  readonly origin: string;
  readonly code: string;
  said(): string;
  end(): Promise<void>;
}

/** The built program with a display to show itself on, and a system that only writes down what it is asked to open. */
async function start(folder: string, commands: string): Promise<Running> {
  const child = spawn(process.execPath, [SERVER], {
    env: {
      ...process.env,
      DISPLAY: ":none",
      PATH: `${commands}:${process.env.PATH}`,
      BOREWRIGHT_FOLDER: folder,
      ASKED: join(commands, "asked"),
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let text = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on("data", (bytes: Buffer) => {
      text += bytes.toString("utf8");
    });
  }
  await vi.waitFor(() => expect(text).toMatch(/http:\/\/127\.0\.0\.1:\d+\/#code=[\w-]+\n/), 60_000);
  const address = new URL(/http:\/\/127\.0\.0\.1:\S+/.exec(text)?.[0] ?? "");
  return {
    child,
    origin: address.origin,
    code: new URLSearchParams(address.hash.slice(1)).get("code") ?? "",
    said: () => text,
    end: async () => {
      const ended = new Promise((resolve) => child.once("exit", resolve));
      child.kill("SIGTERM");
      await ended;
    },
  };
}

/** Asks as no browser can: with any Host and Origin. */
function ask(origin: string, path: string, method: string, headers: Record<string, string>, body?: string) {
  return new Promise<{ status: number; body: string }>((resolve, reject) => {
    const { hostname, port } = new URL(origin);
    const asking = request({ hostname, port, path, method, headers, agent: false }, (answer) => {
      let text = "";
      answer.setEncoding("utf8");
      answer.on("data", (piece: string) => {
        text += piece;
      });
      answer.on("end", () => resolve({ status: answer.statusCode ?? 0, body: text }));
    });
    asking.on("error", reject);
    asking.end(body);
  });
}

/** What a page from elsewhere can try on an address; runs in that page. Each way answers what it got to see. */
async function tryEverything([target, token]: readonly [string, string]): Promise<Record<string, string>> {
  const call = `${target}/call/session.new`;
  const job = JSON.stringify({ job: { format: "borewright/job", version: 1, title: "planted" } });
  const json = { "content-type": "application/json" };
  const bearer = { ...json, authorization: `Bearer ${token}` };
  const seen: Record<string, string> = {};
  const within = <T>(work: Promise<T>, otherwise: T) =>
    Promise.race([work, new Promise<T>((resolve) => setTimeout(() => resolve(otherwise), 3000))]);
  const fetched = async (name: string, address: string, options: RequestInit) => {
    seen[name] = await within(
      fetch(address, { credentials: "include", ...options }).then(
        (answer) => `an answer (${answer.type})`,
        () => "nothing",
      ),
      "nothing",
    );
  };
  const embedded = async (name: string, tag: string, set: (element: HTMLElement) => void) => {
    const element = document.createElement(tag);
    const done = new Promise<string>((resolve) => {
      element.onload = () => resolve("loaded");
      element.onerror = () => resolve("nothing");
    });
    set(element);
    document.body.append(element);
    seen[name] = await within(done, "nothing");
  };

  await fetched("fetch /", `${target}/`, {});
  await fetched("fetch / unread", `${target}/`, { mode: "no-cors" });
  await fetched("fetch the page's file", `${target}/index.html`, { mode: "no-cors" });
  await fetched("fetch events with the token", `${target}/events`, { headers: bearer });
  await fetched("fetch events unread", `${target}/events`, { mode: "no-cors" });
  await fetched("call with the token", call, { method: "POST", headers: bearer, body: job });
  await fetched("call as JSON", call, { method: "POST", headers: json, body: job });
  await fetched("call as text, unread", call, { method: "POST", mode: "no-cors", body: job });
  await fetched("ask for other methods", call, { method: "PUT", body: job });
  seen.beacon = navigator.sendBeacon(call, new Blob([job], { type: "text/plain" })) ? "nothing (sent)" : "nothing";

  await embedded("picture", "img", (element) => element.setAttribute("src", `${target}/`));
  await embedded("script", "script", (element) => element.setAttribute("src", `${target}/enter.js`));
  await embedded("style", "link", (element) => {
    element.setAttribute("rel", "stylesheet");
    element.setAttribute("href", `${target}/index.css`);
  });

  const source = new EventSource(`${target}/events`, { withCredentials: true });
  seen.EventSource = await within(
    new Promise<string>((resolve) => {
      source.onmessage = source.onopen = () => resolve("a stream");
      source.onerror = () => resolve("nothing");
    }),
    "nothing",
  );
  source.close();
  const socket = new WebSocket(`${target.replace("http", "ws")}/events`);
  seen.WebSocket = await within(
    new Promise<string>((resolve) => {
      socket.onopen = () => resolve("a socket");
      socket.onerror = () => resolve("nothing");
    }),
    "nothing",
  );

  const frame = document.createElement("iframe");
  frame.name = "framed";
  frame.src = `${target}/`;
  document.body.append(frame);
  await new Promise((resolve) => setTimeout(resolve, 500));
  const form = document.createElement("form");
  form.method = "post";
  form.enctype = "text/plain";
  form.target = "framed";
  form.action = call;
  const field = document.createElement("input");
  field.name = job.slice(0, -1);
  field.value = `"}`;
  form.append(field);
  document.body.append(form);
  form.submit();
  await new Promise((resolve) => setTimeout(resolve, 500));
  try {
    seen.frame = frame.contentWindow?.document.body.innerHTML === undefined ? "nothing" : "its document";
  } catch {
    seen.frame = "nothing";
  }

  const opened = window.open(`${target}/#code=guess`);
  await new Promise((resolve) => setTimeout(resolve, 1500));
  try {
    // An empty page of its own is what it may look into before and where nothing was opened.
    const { href } = opened?.location ?? { href: "about:blank" };
    seen.window = href === "about:blank" ? "nothing" : `its address ${href}`;
  } catch {
    seen.window = "nothing";
  }
  opened?.postMessage({ ask: "token" }, "*");
  return seen;
}

describe.runIf(process.platform === "linux")("a page from elsewhere, a foreign name and a stolen stale key", () => {
  let folder: string;
  let commands: string;
  let program: Running;
  let browser: Browser;
  let context: BrowserContext;
  let owner: Page;
  let outside: Server;
  let door: string;
  let token = "";
  let pass = "";

  beforeAll(async () => {
    const top = await mkdtemp(join(tmpdir(), "borewright-outside-"));
    folder = join(top, "sessions");
    commands = join(top, "commands");
    await mkdir(commands);
    await writeFile(join(commands, "xdg-open"), '#!/bin/sh\nprintf "%s\\n" "$@" > "$ASKED"\n');
    await chmod(join(commands, "xdg-open"), 0o755);
    program = await start(folder, commands);
    const asked = await vi.waitFor(async () => {
      const text = await readFile(join(commands, "asked"), "utf8");
      expect(text).toMatch(/^file:.*\n$/);
      return text;
    }, 60_000);
    door = asked.trim();
    outside = createServer((_request, response) => {
      response.setHeader("content-type", "text/html");
      response.end("<!doctype html><title>outside</title><body>");
    });
    await new Promise<void>((resolve) => outside.listen(0, "127.0.0.1", resolve));
    const executablePath = findBrowser();
    browser = await chromium.launch({
      ...(executablePath === null ? {} : { executablePath }),
      args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
    });
    context = await browser.newContext();
    owner = await context.newPage();
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await program?.end();
    outside?.close();
    await rm(join(folder, ".."), { recursive: true, force: true });
  }, 120_000);

  test("the browser is opened without the code in any command, over a file that nobody else can read", async () => {
    expect(door).not.toContain(program.code);
    expect((await readFile(`/proc/${program.child.pid}/cmdline`, "utf8")).includes(program.code)).toBe(false);
    const path = fileURLToPath(door);
    expect((await stat(path)).mode & 0o777).toBe(0o600);
    expect(await readFile(path, "utf8")).toContain(program.code);
    await owner.goto(door);
    await owner.waitForURL(`${program.origin}/`);
    await owner.getByRole("button", { name: "Try it with simulated gauges" }).waitFor();
    await expect.poll(() => existsSync(path), { timeout: 30_000 }).toBe(false);
  });

  test("no secret is on disk, in what is printed or in the process's name", async () => {
    token = await owner.evaluate(() => sessionStorage.getItem("borewright.token") ?? "");
    pass = (await context.cookies(program.origin)).find(({ name }) => name.startsWith("borewright-pass"))?.value ?? "";
    expect([token, pass].map((secret) => secret.length)).toEqual([43, 43]);
    await owner.getByRole("button", { name: "Try it with simulated gauges" }).click();
    await owner.getByRole("heading", { name: "Lifters", level: 1 }).waitFor();
    const places = [program.said(), await readFile(`/proc/${program.child.pid}/cmdline`, "utf8")];
    for (const name of await readdir(folder)) places.push(await readFile(join(folder, name), "utf8").catch(() => ""));
    expect(places.length).toBeGreaterThan(2);
    for (const secret of [token, pass]) expect(places.some((text) => text.includes(secret))).toBe(false);
  });

  test.each([
    ["from a page of another port", "127.0.0.1", "127.0.0.1"],
    ["from a page of another site", "outside.localhost", "127.0.0.1"],
    ["over a foreign name that points here", "outside.localhost", "outside.localhost"],
  ])("nothing is got %s", async (_name, from, to) => {
    const { port } = outside.address() as AddressInfo;
    const target = `http://${to}:${new URL(program.origin).port}`;
    const before = await readdir(folder);
    const got: string[] = [];
    let kept = 0;
    const page = await context.newPage();
    page.on("requestfinished", (asked) => {
      if (asked.url().startsWith(target)) got.push(asked.url());
    });
    page.on("requestfailed", (asked) => {
      if (asked.url().startsWith(target)) kept += 1;
    });
    await page.goto(`http://${from}:${port}/`);
    const seen = await page.evaluate(tryEverything, [target, token] as const);
    expect(Object.entries(seen).filter(([, saw]) => !saw.startsWith("nothing"))).toEqual([]);
    expect(Object.keys(seen).length).toBeGreaterThanOrEqual(16);
    // It did ask, and the browser, told so by every answer's headers, let none of it through.
    expect(got).toEqual([]);
    expect(kept).toBeGreaterThan(10);
    // Nothing was begun in its name, and who works here is not disturbed.
    expect(await readdir(folder)).toEqual(before);
    for (const other of context.pages()) if (other !== owner) await other.close();
    const answer = await owner.evaluate(
      async (key) =>
        (
          await fetch("./call/app.info", {
            method: "POST",
            headers: { "content-type": "application/json", authorization: `Bearer ${key}` },
            body: "{}",
          })
        ).status,
      token,
    );
    expect(answer).toBe(200);
  });

  test("what was stolen is worth nothing to the next start of the program", async () => {
    await program.end();
    const { code } = program;
    program = await start(folder, commands);
    const { origin } = program;
    const key = {
      origin,
      authorization: `Bearer ${token}`,
      cookie: `borewright-pass-${new URL(origin).port}=${pass}`,
      "content-type": "application/json",
    };
    const call = await ask(origin, "/call/app.info", "POST", key, "{}");
    expect(call).toEqual({ status: 401, body: "" });
    expect(await ask(origin, "/events", "GET", key)).toEqual({ status: 401, body: "" });
    expect(await ask(origin, "/index.html", "GET", key)).toEqual({ status: 401, body: "" });
    expect((await ask(origin, "/enter", "POST", key, JSON.stringify({ code }))).status).toBe(403);
    expect((await ask(origin, "/enter", "POST", key, JSON.stringify({ code: program.code }))).status).toBe(200);
  });
});
