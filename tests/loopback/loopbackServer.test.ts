import { mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { type IncomingHttpHeaders, request } from "node:http";
import { networkInterfaces, tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { HostEvent } from "../../core/bridge/messages.ts";
import { type CarriedHost, LoopbackServer } from "../../electron/loopback/loopbackServer.ts";
import { EventReader } from "../../renderer/bridge/eventReader.ts";

/** A host that remembers what it was asked and says what it is told to (stands in for the real one). */
class ListeningHost implements CarriedHost {
  readonly calls: { method: string; input: unknown; mayAct: boolean }[] = [];
  readonly listeners = new Set<(event: HostEvent) => void>();

  async call(method: string, input: unknown, from: { readonly mayAct: boolean }) {
    this.calls.push({ method, input, mayAct: from.mayAct });
    return { ok: true as const, value: { answered: method } };
  }

  listen(onEvent: (event: HostEvent) => void) {
    this.listeners.add(onEvent);
    onEvent({ type: "session", session: null });
    return () => this.listeners.delete(onEvent);
  }
}

let folder: string;
let host: ListeningHost;
let server: LoopbackServer;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "borewright-loopback-"));
  await mkdir(join(folder, "page", "assets"), { recursive: true });
  await writeFile(join(folder, "page", "index.html"), "<p>the program</p>");
  await writeFile(join(folder, "page", "assets", "main.js"), "run();");
  await writeFile(join(folder, "page", "notes.txt"), "not of the page");
  await writeFile(join(folder, "secret.js"), "not yours");
  await symlink(join(folder, "secret.js"), join(folder, "page", "link.js"));
  host = new ListeningHost();
  server = await LoopbackServer.start({ host, page: join(folder, "page") });
});
afterEach(async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true });
});

interface Answered {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

interface Asked {
  readonly method?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
}

// Not fetch: it forbids the very headers that an attacker would forge.
function ask(path: string, { method = "GET", headers = {}, body }: Asked = {}): Promise<Answered> {
  const { port } = new URL(server.origin);
  return new Promise((resolve, reject) => {
    const asking = request({ host: "127.0.0.1", port, path, method, headers, agent: false }, (response) => {
      let text = "";
      response.setEncoding("utf8");
      response.on("data", (piece: string) => {
        text += piece;
      });
      response.on("end", () => resolve({ status: response.statusCode ?? 0, headers: response.headers, body: text }));
      response.on("error", reject);
    });
    asking.on("error", reject);
    asking.end(body);
  });
}

const post = (path: string, value: unknown, headers: Record<string, string> = {}) =>
  ask(path, {
    method: "POST",
    headers: { origin: server.origin, "content-type": "application/json", ...headers },
    body: typeof value === "string" ? value : JSON.stringify(value),
  });

const codeOf = (address: string) => new URLSearchParams(new URL(address).hash.slice(1)).get("code");

async function enter(): Promise<{ readonly token: string; readonly cookie: string }> {
  const answer = await post("/enter", { code: codeOf(server.newAddress()) });
  expect(answer.status).toBe(200);
  return {
    token: JSON.parse(answer.body).token,
    cookie: (answer.headers["set-cookie"]?.[0] ?? "").split(";")[0] ?? "",
  };
}

interface Stream {
  readonly events: { name: string; data: unknown }[];
  readonly close: () => void;
  next(name: string): Promise<unknown>;
}

async function listen(token: string, tab?: string): Promise<Stream> {
  const given = new AbortController();
  const answer = await fetch(`${server.origin}/events`, {
    headers: { authorization: `Bearer ${token}`, ...(tab === undefined ? {} : { "x-borewright-tab": tab }) },
    signal: given.signal,
  });
  expect(answer.status).toBe(200);
  const events: { name: string; data: unknown }[] = [];
  const reader = new EventReader((name, data) => events.push({ name, data: JSON.parse(data) }));
  void (async () => {
    const decoder = new TextDecoder();
    for await (const piece of answer.body as unknown as AsyncIterable<Uint8Array>) {
      reader.push(decoder.decode(piece, { stream: true }));
    }
  })().catch(() => {});
  const next = async (name: string) => {
    for (let turn = 0; turn < 1000; turn += 1) {
      const found = events.find((event) => event.name === name);
      if (found !== undefined) return found.data;
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    throw new Error(`no event "${name}" came`);
  };
  return { events, close: () => given.abort(), next };
}

describe("without the key", () => {
  it("serves the page that asks for the code, and nothing else", async () => {
    expect((await ask("/")).body).toContain("enter.js");
    expect((await ask("/enter.js")).status).toBe(200);
    for (const path of ["/index.html", "/assets/main.js", "/events", "/favicon.ico"]) {
      expect((await ask(path)).status, path).toBe(401);
    }
    expect((await post("/call/app.info", {})).status).toBe(401);
    expect((await post("/call/app.info", {}, { authorization: "Bearer guess" })).status).toBe(401);
    expect(host.calls).toEqual([]);
  });

  it("does not take the pass of the page's files for the key of the bench", async () => {
    const { cookie } = await enter();
    expect((await ask("/assets/main.js", { headers: { cookie } })).body).toBe("run();");
    expect((await ask("/events", { headers: { cookie } })).status).toBe(401);
    expect((await post("/call/app.info", {}, { cookie })).status).toBe(401);
    expect(host.listeners.size).toBe(0);
  });

  it("takes each code once and no other", async () => {
    const code = codeOf(server.newAddress());
    expect((await post("/enter", { code: "guess" })).status).toBe(403);
    expect((await post("/enter", { code })).status).toBe(200);
    expect((await post("/enter", { code })).status).toBe(403);
    expect((await post("/enter", "not json")).status).toBe(403);
  });

  it("keeps the code out of what is sent when the address is opened", () => {
    const address = new URL(server.newAddress());
    expect(address.pathname + address.search).toBe("/");
    expect(address.hash).toMatch(/^#code=[\w-]{43}$/);
  });
});

describe("from elsewhere", () => {
  it("refuses a foreign Host and a foreign Origin, with the key or without", async () => {
    const { token, cookie } = await enter();
    const { port } = new URL(server.origin);
    const key = { authorization: `Bearer ${token}`, cookie };
    for (const foreign of [`bench.example:${port}`, `localhost:${port}`, "127.0.0.1", "127.0.0.1:1"]) {
      expect((await ask("/", { headers: { ...key, host: foreign } })).status, foreign).toBe(403);
      expect((await post("/call/app.info", {}, { ...key, host: foreign })).status, foreign).toBe(403);
    }
    for (const origin of ["http://bench.example", "null", `http://localhost:${port}`, "http://127.0.0.1"]) {
      expect((await post("/call/app.info", {}, { ...key, origin })).status, origin).toBe(403);
      expect((await ask("/events", { headers: { ...key, origin } })).status, origin).toBe(403);
    }
    const noOrigin = await ask("/call/app.info", {
      method: "POST",
      headers: { ...key, "content-type": "application/json" },
      body: "{}",
    });
    expect(noOrigin.status).toBe(403);
    expect((await ask("/assets/main.js", { headers: { ...key, "sec-fetch-site": "cross-site" } })).status).toBe(403);
    expect(host.calls).toEqual([]);
  });

  it("takes only JSON, as a form of another page cannot send it unasked", async () => {
    const { token } = await enter();
    const form = await post("/call/app.info", "{}", {
      authorization: `Bearer ${token}`,
      "content-type": "application/x-www-form-urlencoded",
    });
    expect(form.status).toBe(415);
  });

  it("cannot be reached but on this computer", async () => {
    const { port } = new URL(server.origin);
    const others = Object.values(networkInterfaces())
      .flat()
      .filter((one) => one !== undefined && !one.internal && one.family === "IPv4");
    for (const other of others) {
      const reached = await fetch(`http://${other?.address}:${port}/`).then(
        () => true,
        () => false,
      );
      expect(reached).toBe(false);
    }
    expect(server.origin).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  });
});

describe("with the key", () => {
  it("answers calls and tells events", async () => {
    const { token } = await enter();
    const stream = await listen(token);
    expect(await stream.next("tab")).toMatchObject({ mayAct: true });
    expect(await stream.next("host")).toEqual({ type: "session", session: null });
    const { id } = (await stream.next("tab")) as { id: string };
    const called = await post(
      "/call/job.check",
      { job: {} },
      { authorization: `Bearer ${token}`, "x-borewright-tab": id },
    );
    expect(JSON.parse(called.body)).toEqual({ ok: true, value: { answered: "job.check" } });
    expect(host.calls).toEqual([{ method: "job.check", input: { job: {} }, mayAct: true }]);
    stream.close();
  });

  it("answers a call that is no JSON with an envelope", async () => {
    const { token } = await enter();
    const called = await post("/call/app.info", "{", { authorization: `Bearer ${token}` });
    expect(JSON.parse(called.body)).toMatchObject({ ok: false, code: "bad-input" });
  });

  it("lets a second tab look only, and hands over when the first is gone", async () => {
    const { token } = await enter();
    const first = await listen(token);
    const firstTab = (await first.next("tab")) as { id: string };
    const second = await listen(token, firstTab.id);
    const secondTab = (await second.next("tab")) as { id: string; mayAct: boolean };
    expect(secondTab.mayAct).toBe(false);
    expect(secondTab.id).not.toBe(firstTab.id);
    const call = (tab: string) =>
      post("/call/session.close", {}, { authorization: `Bearer ${token}`, "x-borewright-tab": tab });
    await call(firstTab.id);
    await call(secondTab.id);
    await call("made up");
    expect(host.calls.map((one) => one.mayAct)).toEqual([true, false, false]);
    first.close();
    expect(await second.next("charge")).toEqual({ mayAct: true });
    await call(secondTab.id);
    expect(host.calls.at(-1)?.mayAct).toBe(true);
    second.close();
  });

  it("keeps a tab in charge over a reload", async () => {
    const { token } = await enter();
    const first = await listen(token);
    const { id } = (await first.next("tab")) as { id: string };
    const second = await listen(token);
    await second.next("tab");
    first.close();
    await new Promise((resolve) => setTimeout(resolve, 100));
    const again = await listen(token, id);
    expect(await again.next("tab")).toEqual({ id, mayAct: true });
    again.close();
    second.close();
  });

  it("caps what a call may bring, announced or not", async () => {
    const { token } = await enter();
    const large = JSON.stringify({ text: "x".repeat(1_100_000) });
    const key = { authorization: `Bearer ${token}` };
    expect((await post("/call/session.act", large, key)).status).toBe(413);
    const unannounced = await post("/call/session.act", large, { ...key, "transfer-encoding": "chunked" });
    expect(unannounced.status).toBe(413);
    expect((await post("/call/session.adopt", large, key)).status).toBe(200);
    expect(host.calls.map((one) => one.method)).toEqual(["session.adopt"]);
  });

  it("serves the page's files only, with strict headers", async () => {
    const { cookie } = await enter();
    const page = await ask("/", { headers: { cookie } });
    expect(page.body).toBe("<p>the program</p>");
    expect(page.headers["content-security-policy"]).toContain("default-src 'none'");
    expect(page.headers["content-security-policy"]).not.toContain("unsafe");
    expect(page.headers["x-content-type-options"]).toBe("nosniff");
    expect(page.headers["cache-control"]).toBe("no-store");
    // Only the code, whose name says its content, may be kept.
    expect((await ask("/assets/main.js", { headers: { cookie } })).headers["cache-control"]).toContain("immutable");
    expect((await ask("/assets/none.js", { headers: { cookie } })).headers["cache-control"]).toBe("no-store");
    for (const path of ["/notes.txt", "/../secret.js", "/%2e%2e/secret.js", "/link.js", "/assets", "/assets/", "/%"]) {
      expect((await ask(path, { headers: { cookie } })).status, path).toBe(404);
    }
  });

  it("stops listening to the host when a tab goes away", async () => {
    const { token } = await enter();
    const stream = await listen(token);
    await stream.next("host");
    expect(host.listeners.size).toBe(1);
    stream.close();
    for (let turn = 0; turn < 100 && host.listeners.size > 0; turn += 1) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    expect(host.listeners.size).toBe(0);
  });
});
