import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from "node:fs/promises";
import { connect, type Socket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { makeDoorFile } from "../../electron/loopback/doorFile.ts";
import { type CarriedHost, LoopbackServer, type Patience } from "../../electron/loopback/loopbackServer.ts";
import { openingCommand } from "../../electron/loopback/openBrowser.ts";
import { Secrets, sameSecret } from "../../electron/loopback/secrets.ts";

const GENEROUS = { timeout: 30_000, interval: 20 };

let folder: string;
let server: LoopbackServer;
let calls: string[];
let listeners: Set<(event: HostEvent) => void>;
const sockets: Socket[] = [];

async function start(patience: Partial<Patience> = {}): Promise<void> {
  const host: CarriedHost = {
    call: async (method) => {
      calls.push(method);
      return { ok: true, value: {} };
    },
    listen: (onEvent) => {
      listeners.add(onEvent);
      return () => listeners.delete(onEvent);
    },
  };
  server = await LoopbackServer.start({ host, page: folder, patience });
}

beforeEach(async () => {
  calls = [];
  listeners = new Set();
  folder = await mkdtemp(join(tmpdir(), "borewright-hard-"));
  await mkdir(join(folder, "assets"));
  await writeFile(join(folder, "index.html"), "<p>the program</p>");
});
afterEach(async () => {
  for (const socket of sockets.splice(0)) socket.destroy();
  await server?.close();
  await rm(folder, { recursive: true, force: true });
});

interface Raw {
  readonly socket: Socket;
  /** All that came so far. */
  text(): string;
  readonly closed: Promise<void>;
}

/** A connection that sends exactly these bytes and nothing of its own accord. */
async function raw(text: string): Promise<Raw> {
  const socket = connect(Number(new URL(server.origin).port), "127.0.0.1");
  sockets.push(socket);
  let came = "";
  socket.on("data", (bytes: Buffer) => {
    came += bytes.toString("latin1");
  });
  socket.on("error", () => {});
  const closed = new Promise<void>((resolve) => socket.once("close", () => resolve()));
  await new Promise<void>((resolve) => {
    socket.once("connect", resolve);
    socket.once("close", resolve);
  });
  socket.write(text);
  return { socket, text: () => came, closed };
}

/** The status of the answer to exactly these bytes. */
async function statusOf(text: string): Promise<number> {
  const asked = await raw(text);
  await vi.waitFor(() => expect(asked.text()).toMatch(/^HTTP\/1\.1 \d+/), GENEROUS);
  return Number(asked.text().slice(9, 12));
}

const authority = () => new URL(server.origin).host;
const lines = (first: string, headers: readonly string[]) => `${[first, ...headers].join("\r\n")}\r\n\r\n`;
const ours = (first: string, ...more: string[]) =>
  lines(`${first} HTTP/1.1`, [`Host: ${authority()}`, "Connection: close", ...more]);

async function enter(): Promise<string> {
  const code = new URLSearchParams(new URL(server.newAddress()).hash.slice(1)).get("code");
  const answer = await fetch(`${server.origin}/enter`, {
    method: "POST",
    headers: { origin: server.origin, "content-type": "application/json" },
    body: JSON.stringify({ code }),
  });
  return ((await answer.json()) as { token: string }).token;
}

describe("methods", () => {
  it("answers reading and calling, and says of the rest what it takes", async () => {
    await start();
    for (const method of ["OPTIONS", "TRACE", "PUT", "DELETE", "PATCH"]) {
      const asked = await raw(ours(`${method} /`));
      await asked.closed;
      expect(asked.text(), method).toMatch(/^HTTP\/1\.1 405 /);
      expect(asked.text(), method).toMatch(/\r\nallow: GET, HEAD, POST\r\n/i);
      expect(asked.text(), method).not.toMatch(/access-control/i);
    }
  });

  it("tells a HEAD what a GET would, without the body, and opens no stream for one", async () => {
    await start();
    const token = await enter();
    const head = await raw(ours("HEAD /"));
    await head.closed;
    expect(head.text()).toMatch(/^HTTP\/1\.1 200 [\s\S]*\r\n\r\n$/);
    expect(await statusOf(ours("HEAD /events", `Authorization: Bearer ${token}`))).toBe(405);
    expect(listeners.size).toBe(0);
  });

  it("opens no tunnel and changes to no other protocol", async () => {
    await start();
    const tunnel = await raw(`CONNECT ${authority()} HTTP/1.1\r\nHost: ${authority()}\r\n\r\n`);
    await tunnel.closed;
    expect(tunnel.text()).not.toContain(" 200 ");
    const socket = ["Connection: Upgrade", "Upgrade: websocket", "Sec-WebSocket-Key: x", "Sec-WebSocket-Version: 13"];
    expect(await statusOf(lines("GET /events HTTP/1.1", [`Host: ${authority()}`, ...socket]))).toBe(401);
  });
});

describe("who asks", () => {
  it("refuses no Host, two of them, and one in the address only", async () => {
    await start();
    const foreign = "bench.example";
    const first = "GET / HTTP/1.1";
    expect(await statusOf(lines(first, []))).toBe(400);
    for (const hosts of [
      [authority(), foreign],
      [foreign, authority()],
      [authority(), authority()],
    ]) {
      const status = await statusOf(
        lines(
          first,
          hosts.map((host) => `Host: ${host}`),
        ),
      );
      expect(status, hosts.join()).toBeGreaterThanOrEqual(400);
    }
    expect(await statusOf(ours(`GET http://${foreign}/`))).toBeGreaterThanOrEqual(400);
    expect(await statusOf(ours(`GET http://${authority()}/index.html`))).toBeGreaterThanOrEqual(400);
  });

  it("gives its first page to a link from elsewhere, and to nothing else from there", async () => {
    await start();
    const from = (mode: string, goal: string, path = "/") =>
      statusOf(ours(`GET ${path}`, "Sec-Fetch-Site: cross-site", `Sec-Fetch-Mode: ${mode}`, `Sec-Fetch-Dest: ${goal}`));
    expect(await from("navigate", "document")).toBe(200);
    for (const [mode, goal] of [
      ["navigate", "iframe"],
      ["navigate", "object"],
      ["no-cors", "image"],
      ["no-cors", "script"],
      ["cors", "empty"],
    ] as const)
      expect(await from(mode, goal), goal).toBe(403);
    expect(await from("navigate", "document", "/enter.js")).toBe(403);
    expect(await statusOf(ours("GET /", "Sec-Fetch-Site: same-site", "Sec-Fetch-Mode: cors"))).toBe(403);
  });

  it("takes no code any more after twenty wrong ones, and who is in stays in", async () => {
    await start();
    const token = await enter();
    const code = new URLSearchParams(new URL(server.newAddress()).hash.slice(1)).get("code");
    const tryCode = (given: unknown) =>
      fetch(`${server.origin}/enter`, {
        method: "POST",
        headers: { origin: server.origin, "content-type": "application/json" },
        body: JSON.stringify({ code: given }),
      }).then(({ status }) => status);
    for (let guess = 0; guess < 20; guess += 1) expect(await tryCode(`guess ${guess}`)).toBe(403);
    expect(await tryCode(code)).toBe(403);
    const call = await fetch(`${server.origin}/call/app.info`, {
      method: "POST",
      headers: { origin: server.origin, "content-type": "application/json", authorization: `Bearer ${token}` },
      body: "{}",
    });
    expect(call.status).toBe(200);
  });

  it("compares secrets of one length over all of it", () => {
    const { token } = new Secrets();
    expect(sameSecret(token, token)).toBe(true);
    expect(sameSecret(token, new Secrets().token)).toBe(false);
    expect(sameSecret(token, token.slice(1))).toBe(false);
    expect(sameSecret(token, `${token.slice(0, -1)}*`)).toBe(false);
  });
});

describe("slow and greedy clients", () => {
  it("lets go of one that does not come to the end of its headers, or of its body", async () => {
    await start({ headersMs: 200, requestMs: 400, lookMs: 50 });
    const token = await enter();
    const headers = await raw(`GET / HTTP/1.1\r\nHost: ${authority()}\r\nX-Slow: `);
    const body = await raw(
      ours(
        "POST /call/app.info",
        `Origin: ${server.origin}`,
        "Content-Type: application/json",
        `Authorization: Bearer ${token}`,
        "Content-Length: 1000",
      ).concat("{"),
    );
    await Promise.all([headers.closed, body.closed]);
    expect(calls).toEqual([]);
    expect((await fetch(`${server.origin}/`)).status).toBe(200);
  });

  it("refuses headers without end", async () => {
    await start();
    expect(await statusOf(ours("GET /", `X-Long: ${"x".repeat(20_000)}`))).toBe(431);
  });

  it("lets a tab go that does not read its events, and keeps little for it until then", async () => {
    await start({ backlogBytes: 1_000_000 });
    const token = await enter();
    const stream = await raw(lines("GET /events HTTP/1.1", [`Host: ${authority()}`, `Authorization: Bearer ${token}`]));
    await vi.waitFor(() => expect(stream.text()).toContain("event: tab"), GENEROUS);
    stream.socket.pause();
    const event: HostEvent = { type: "saved", pending: 0, trouble: "x".repeat(100_000) };
    let told = 0;
    // What the system itself takes for the connection is a few MB; a tab that is never let go would take all of this.
    while (listeners.size > 0 && told < 5000) {
      for (const listener of listeners) listener(event);
      told += 1;
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect(listeners.size).toBe(0);
    expect(told * 100_000).toBeLessThan(100_000_000);
  });

  it("opens so many streams and no more, and the ones that are open go on", async () => {
    await start({ mostStreams: 2 });
    const token = await enter();
    const given = new AbortController();
    const listen = () =>
      fetch(`${server.origin}/events`, { headers: { authorization: `Bearer ${token}` }, signal: given.signal });
    const open = [await listen(), await listen()];
    expect((await listen()).status).toBe(503);
    expect(open.map(({ status }) => status)).toEqual([200, 200]);
    expect(listeners.size).toBe(2);
    given.abort();
    await vi.waitFor(() => expect(listeners.size).toBe(0), GENEROUS);
    const again = new AbortController();
    const later = await fetch(`${server.origin}/events`, {
      headers: { authorization: `Bearer ${token}` },
      signal: again.signal,
    });
    expect(later.status).toBe(200);
    again.abort();
  });

  it("answers the tab that is in while others hold every connection there is, and others again when they let go", async () => {
    await start({ mostConnections: 6, headersMs: 500, lookMs: 50 });
    const token = await enter();
    const tab = await raw("");
    const crowd = await Promise.all(Array.from({ length: 30 }, () => raw("GET / HTTP/1.1\r\n")));
    tab.socket.write(
      `${lines("POST /call/app.info HTTP/1.1", [
        `Host: ${authority()}`,
        `Origin: ${server.origin}`,
        "Content-Type: application/json",
        `Authorization: Bearer ${token}`,
        "Content-Length: 2",
      ])}{}`,
    );
    await vi.waitFor(() => expect(tab.text()).toContain('{"ok":true'), GENEROUS);
    await Promise.all(crowd.map(({ closed }) => closed));
    await vi.waitFor(async () => expect((await fetch(`${server.origin}/`)).status).toBe(200), GENEROUS);
  });
});

describe("what opens the browser", () => {
  const address = "http://127.0.0.1:41234/#code=abc-_123";

  it("is a file for this user's eyes only, gone when it is no longer needed", async () => {
    await start();
    const door = await makeDoorFile(folder, address);
    if (door === null) throw new Error("it was not made");
    const path = fileURLToPath(door.address);
    expect(path).toBe(join(folder, "open-borewright-41234.html"));
    expect(await readFile(path, "utf8")).toContain(address);
    if (process.platform !== "win32") expect((await stat(path)).mode & 0o777).toBe(0o600);
    await door.remove();
    await door.remove();
    await expect(stat(path)).rejects.toThrow("ENOENT");
  });

  it("takes the place of one that a killed program left, and goes elsewhere where the folder takes none", async () => {
    await start();
    await writeFile(join(folder, "open-borewright-41234.html"), "old", { mode: 0o644 });
    const door = await makeDoorFile(folder, address);
    expect(await readFile(fileURLToPath(door?.address ?? ""), "utf8")).toContain(address);
    await door?.remove();
    const elsewhere = await makeDoorFile(join(folder, "not there"), address);
    const path = fileURLToPath(elsewhere?.address ?? "");
    expect(path.startsWith(folder)).toBe(false);
    expect(await readFile(path, "utf8")).toContain(address);
    await elsewhere?.remove();
    await expect(stat(join(path, ".."))).rejects.toThrow("ENOENT");
  });

  it.each(["linux", "darwin", "win32"] as const)("asks no shell on %s", (platform) => {
    const [command, args] = openingCommand(platform, "file:///a%20b/$(touch%20x);&.html");
    expect(command).toMatch(/^(xdg-open|open|rundll32)$/);
    expect(args.at(-1)).toBe("file:///a%20b/$(touch%20x);&.html");
  });
});
