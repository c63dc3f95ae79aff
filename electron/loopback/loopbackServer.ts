import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Envelope, HostEvent } from "../../core/bridge/messages.ts";
import { ENTRY_PAGE, ENTRY_SCRIPT } from "./entryPage.ts";
import { readPageFile } from "./pageFiles.ts";
import { Secrets, sameSecret } from "./secrets.ts";
import { Tabs } from "./tabs.ts";

/** What the shell needs of the host. */
export interface CarriedHost {
  call(method: string, input: unknown, from: { readonly mayAct: boolean }): Promise<Envelope<unknown>>;
  listen(onEvent: (event: HostEvent) => void): () => void;
}

export interface LoopbackOptions {
  readonly host: CarriedHost;
  /** Folder of the built page. */
  readonly page: string;
  /** Called each time somebody came in by a code. */
  readonly onEnter?: () => void;
  /** Patience with clients; tests have less of it. */
  readonly patience?: Partial<Patience>;
}

/** How long a client may take and how much of the program it may hold. */
export interface Patience {
  /** For the lines before the body, ms. */
  readonly headersMs: number;
  /** For a whole request, ms. */
  readonly requestMs: number;
  /** How often the two are looked at, ms. */
  readonly lookMs: number;
  readonly mostConnections: number;
  /** Event streams: one for each tab. */
  readonly mostStreams: number;
  /** What a tab may be behind before it is let go, bytes; it then connects again and gets the present state. */
  readonly backlogBytes: number;
}

const PATIENCE: Patience = {
  headersMs: 10_000,
  requestMs: 60_000,
  lookMs: 2_000,
  mostConnections: 100,
  mostStreams: 24,
  backlogBytes: 8_000_000,
};

const ADDRESS = "127.0.0.1";
const LARGEST_CALL = 1_000_000;
/** A session file dropped on the page, bytes. */
const LARGEST_FILE = 200_000_000;
/** Methods that take the whole content of a file. */
const TAKES_FILE: ReadonlySet<string> = new Set(["session.adopt", "parcel.open", "parcel.adopt"]);
const HEARTBEAT_MS = 10_000;

const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join("; ");

const HEADERS = {
  "content-security-policy": POLICY,
  "x-content-type-options": "nosniff",
  "x-frame-options": "DENY",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy":
    "camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), bluetooth=(), midi=(), display-capture=()",
  "cache-control": "no-store",
} as const;

/**
 * The bridge for a browser on this computer: calls by POST, events by a stream (server-sent events, fetched with the
 * token in a header, so that it never stands in an address). Listens on 127.0.0.1 only, on a free port.
 *
 * Without the pass that comes with the token nothing is served but the page that asks for the code; without the token
 * no call is answered and no event told. `Host` and `Origin` must be this server's own, so that no page from elsewhere
 * can speak to it, also not under a name that points here. Nothing that is asked or sent is written to any log.
 */
export class LoopbackServer {
  readonly #server: Server;
  readonly #options: LoopbackOptions;
  readonly #patience: Patience;
  readonly #secrets = new Secrets();
  readonly #tabs = new Tabs();
  readonly #streams = new Set<ServerResponse>();
  readonly #origin: string;
  readonly #authority: string;
  readonly #cookie: string;

  private constructor(server: Server, options: LoopbackOptions, patience: Patience) {
    this.#server = server;
    this.#options = options;
    this.#patience = patience;
    const { port } = server.address() as AddressInfo;
    this.#authority = `${ADDRESS}:${port}`;
    this.#origin = `http://${this.#authority}`;
    this.#cookie = `borewright-pass-${port}`;
  }

  static async start(options: LoopbackOptions): Promise<LoopbackServer> {
    const patience = { ...PATIENCE, ...options.patience };
    const server = createServer({
      headersTimeout: patience.headersMs,
      requestTimeout: patience.requestMs,
      connectionsCheckingInterval: patience.lookMs,
    });
    server.maxConnections = patience.mostConnections;
    await new Promise<void>((resolve, reject) => {
      server.once("error", reject);
      server.listen(0, ADDRESS, resolve);
    });
    const loopback = new LoopbackServer(server, options, patience);
    server.on("request", (request, response) => void loopback.#answer(request, response));
    return loopback;
  }

  /** An address that opens the page once. */
  newAddress(): string {
    return `${this.#origin}/#code=${this.#secrets.newCode()}`;
  }

  /** Where it listens, such as "http://127.0.0.1:41234". */
  get origin(): string {
    return this.#origin;
  }

  async close(): Promise<void> {
    this.#tabs.close();
    for (const stream of this.#streams) stream.destroy();
    await new Promise<void>((resolve) => {
      this.#server.close(() => resolve());
      this.#server.closeAllConnections();
    });
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    try {
      await this.#route(request, response);
    } catch {
      // A request that went away or lied about its length; there is nobody to tell more.
      if (!response.headersSent) this.#refuse(response, 400);
      else response.destroy();
    }
  }

  async #route(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!this.#isOurs(request)) return this.#refuse(response, 403);
    const { method } = request;
    const path = (request.url ?? "/").split("?")[0] ?? "/";
    // A stream without its events would only hold a seat.
    if (path === "/events") return method === "GET" ? this.#events(request, response) : this.#refuseMethod(response);
    if (method === "GET" || method === "HEAD") return this.#file(request, response, path);
    if (method !== "POST") return this.#refuseMethod(response);
    if (request.headers.origin !== this.#origin) return this.#refuse(response, 403);
    if (!/^application\/json\b/.test(request.headers["content-type"] ?? "")) return this.#refuse(response, 415);
    if (path === "/enter") return this.#enter(request, response);
    if (path.startsWith("/call/")) return this.#call(request, response, path.slice("/call/".length));
    return this.#refuse(response, 404);
  }

  /** Neither a page from elsewhere nor a foreign name for this address. */
  #isOurs(request: IncomingMessage): boolean {
    const { origin } = request.headers;
    // Of two the first would be taken here and perhaps the second elsewhere.
    const hosts = request.headersDistinct.host ?? [];
    if (hosts.length !== 1 || hosts[0] !== this.#authority) return false;
    if (origin !== undefined && origin !== this.#origin) return false;
    const site = request.headers["sec-fetch-site"];
    if (site === undefined || site === "same-origin" || site === "none") return true;
    // A link from elsewhere may open the page in a tab of its own, which then has no token. It is given to no frame, no
    // picture and no script of another page, and not to one that asks for it in the background.
    const { "sec-fetch-mode": mode, "sec-fetch-dest": goal } = request.headers;
    return request.method === "GET" && request.url === "/" && mode === "navigate" && goal === "document";
  }

  async #enter(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const body = await this.#json(request, response, 1000);
    if (body === TOO_LARGE) return;
    const code = (body as { code?: unknown } | null)?.code;
    if (typeof code !== "string" || !this.#secrets.spend(code)) return this.#refuse(response, 403);
    this.#options.onEnter?.();
    response.setHeader("set-cookie", `${this.#cookie}=${this.#secrets.pass}; Path=/; HttpOnly; SameSite=Strict`);
    this.#send(response, 200, "application/json", JSON.stringify({ token: this.#secrets.token }));
  }

  async #call(request: IncomingMessage, response: ServerResponse, method: string): Promise<void> {
    if (!this.#hasToken(request)) return this.#refuse(response, 401);
    const largest = TAKES_FILE.has(method) ? LARGEST_FILE : LARGEST_CALL;
    const body = await this.#json(request, response, largest);
    if (body === TOO_LARGE) return;
    const answer: Envelope<unknown> =
      body === undefined
        ? { ok: false, code: "bad-input", message: `${method}: the call is not JSON.` }
        : await this.#options.host.call(method, body, { mayAct: this.#tabs.mayAct(tabOf(request)) });
    this.#send(response, 200, "application/json", JSON.stringify(answer));
  }

  #events(request: IncomingMessage, response: ServerResponse): void {
    if (!this.#hasToken(request)) {
      this.#refuse(response, 401);
      return;
    }
    if (this.#streams.size >= this.#patience.mostStreams) {
      this.#refuse(response, 503);
      return;
    }
    response.writeHead(200, { ...HEADERS, "content-type": "text/event-stream; charset=utf-8" });
    const say = (name: string, data: unknown) => {
      if (response.destroyed) return;
      if (response.writableLength > this.#patience.backlogBytes) response.destroy();
      else response.write(`event: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
    };
    const tab = this.#tabs.come(tabOf(request) ?? null, (mayAct) => say("charge", { mayAct }));
    say("tab", { id: tab.id, mayAct: this.#tabs.mayAct(tab.id) });
    const stop = this.#options.host.listen((event) => say("host", event));
    const heartbeat = setInterval(() => response.write(": still here\n\n"), HEARTBEAT_MS);
    this.#streams.add(response);
    response.once("close", () => {
      clearInterval(heartbeat);
      stop();
      tab.leave();
      this.#streams.delete(response);
    });
  }

  async #file(request: IncomingMessage, response: ServerResponse, path: string): Promise<void> {
    if (!this.#hasPass(request)) {
      if (path === "/") return this.#send(response, 200, "text/html; charset=utf-8", ENTRY_PAGE);
      if (path === "/enter.js") return this.#send(response, 200, "text/javascript; charset=utf-8", ENTRY_SCRIPT);
      return this.#refuse(response, 401);
    }
    // Browsers ask for it unasked.
    if (path === "/favicon.ico") return this.#send(response, 204, "image/x-icon", "");
    const file = await readPageFile(this.#options.page, path === "/" ? "/index.html" : path);
    if (file === null) return this.#refuse(response, 404);
    // What changes gets another name, so the browser may keep the program's code, and what it made of it.
    const kept = path.startsWith("/assets/") ? { "cache-control": "private, max-age=86400, immutable" } : {};
    this.#send(response, 200, file.type, file.content, kept);
  }

  #hasToken(request: IncomingMessage): boolean {
    const given = /^Bearer (\S+)$/.exec(request.headers.authorization ?? "")?.[1];
    return given !== undefined && sameSecret(given, this.#secrets.token);
  }

  #hasPass(request: IncomingMessage): boolean {
    const cookies = (request.headers.cookie ?? "").split(/;\s*/);
    return cookies.some(
      (cookie) =>
        cookie.startsWith(`${this.#cookie}=`) && sameSecret(cookie.slice(this.#cookie.length + 1), this.#secrets.pass),
    );
  }

  /** The body as JSON; undefined where it is none. Where it is too large, that has been answered. */
  async #json(request: IncomingMessage, response: ServerResponse, largest: number): Promise<unknown> {
    const tooLarge = () => {
      this.#refuse(response, 413);
      request.resume();
      return TOO_LARGE;
    };
    if (Number(request.headers["content-length"] ?? 0) > largest) return tooLarge();
    const pieces: Buffer[] = [];
    let size = 0;
    for await (const piece of request) {
      size += (piece as Buffer).length;
      if (size > largest) return tooLarge();
      pieces.push(piece as Buffer);
    }
    try {
      return JSON.parse(Buffer.concat(pieces).toString("utf8"));
    } catch {
      return undefined;
    }
  }

  #refuseMethod(response: ServerResponse): void {
    response.setHeader("allow", "GET, HEAD, POST");
    this.#refuse(response, 405);
  }

  // Who is refused is not kept waiting for: its connection ends with the answer.
  #refuse(response: ServerResponse, status: number): void {
    response.setHeader("connection", "close");
    this.#send(response, status, "text/plain; charset=utf-8", "");
  }

  #send(response: ServerResponse, status: number, type: string, content: string | Buffer, more = {}): void {
    const described = { "content-type": type, "content-length": Buffer.byteLength(content) };
    response.writeHead(status, { ...HEADERS, ...more, ...described });
    response.end(content);
  }
}

const TOO_LARGE = Symbol("too large");

function tabOf(request: IncomingMessage): string | undefined {
  const tab = request.headers["x-borewright-tab"];
  return typeof tab === "string" ? tab : undefined;
}
