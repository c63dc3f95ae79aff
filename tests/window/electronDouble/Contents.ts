import { randomBytes } from "node:crypto";
import { readFileSync } from "node:fs";
import type { BrowserContext, CDPSession, Page } from "@playwright/test";
import { fromChromium, toChromium } from "./addresses.ts";
import type { Sessions } from "./Sessions.ts";
import { StrictEmitter } from "./StrictEmitter.ts";
import { strict } from "./strict.ts";
import { fromWire, toWire } from "./wire.ts";
import { HEAR, IPC_BINDING, PERMISSION_BINDING, PRELOAD_WORLD, pageScript, preloadScript } from "./worldScripts.ts";

export type WebPreferences = Readonly<Record<string, unknown>>;

/** What main gets with a message of the page. */
interface SenderFrame {
  readonly url: string;
  readonly parent: null;
}
export type Receive = (
  kind: "invoke" | "send",
  channel: string,
  event: { readonly sender: unknown; readonly senderFrame: SenderFrame | null },
  args: readonly unknown[],
) => Promise<unknown>;

const EVENTS = [
  "will-navigate",
  "will-frame-navigate",
  "will-redirect",
  "will-attach-webview",
  "dom-ready",
  "did-finish-load",
  "render-process-gone",
  "destroyed",
];
let lastId = 0;

/** Electron's defaults for what is left out. */
const DEFAULTS = { javascript: true, contextIsolation: true, sandbox: true, nodeIntegration: false, webviewTag: false };

/** A page with its preload: the double of webContents. */
export class Contents extends StrictEmitter {
  readonly id = ++lastId;
  readonly page: Promise<Page>;
  readonly preferences: WebPreferences;
  readonly session: unknown;
  /** Addresses main itself asked for; navigating there asks nobody. */
  readonly asked = new Set<string>();
  openHandler: ((details: { url: string }) => { action: string }) | null = null;
  destroyed = false;
  /** The object main holds. */
  readonly shown: Contents;
  #cdp: CDPSession | null = null;
  #world: number | null = null;
  #url = "";
  readonly #receive: Receive;
  readonly #sessions: Sessions;

  constructor(context: Promise<BrowserContext>, preferences: WebPreferences, sessions: Sessions, receive: Receive) {
    super("webContents", EVENTS);
    this.preferences = { ...DEFAULTS, ...preferences };
    this.session = sessions.defaultSession;
    this.#sessions = sessions;
    this.#receive = receive;
    this.shown = strict("webContents", this);
    this.page = context.then((ready) => this.#open(ready));
  }

  async #open(context: BrowserContext): Promise<Page> {
    const page = await context.newPage();
    const cdp = await context.newCDPSession(page);
    this.#cdp = cdp;
    const isolated = this.preferences.contextIsolation === true;
    const secret = randomBytes(16).toString("hex");
    await cdp.send("Page.enable");
    if (this.preferences.javascript === false) await cdp.send("Emulation.setScriptExecutionDisabled", { value: true });
    await cdp.send("Runtime.addBinding", { name: PERMISSION_BINDING });
    await cdp.send(
      "Runtime.addBinding",
      isolated ? { name: IPC_BINDING, executionContextName: PRELOAD_WORLD } : { name: IPC_BINDING },
    );
    cdp.on("Runtime.executionContextCreated", ({ context: { id, name, auxData } }) => {
      if (isolated ? name === PRELOAD_WORLD : (auxData as { isDefault?: boolean } | undefined)?.isDefault === true)
        this.#world = id;
    });
    cdp.on("Runtime.executionContextDestroyed", ({ executionContextId }) => {
      if (this.#world === executionContextId) this.#world = null;
    });
    cdp.on("Runtime.bindingCalled", ({ name, payload, executionContextId }) => {
      if (name === IPC_BINDING) void this.#heard(payload, executionContextId);
      if (name === PERMISSION_BINDING) void this.#permission(payload, executionContextId);
    });
    await cdp.send("Runtime.enable");
    const inPage = pageScript(secret);
    const preload = this.preferences.preload;
    if (typeof preload === "string") {
      const source = preloadScript(readFileSync(preload, "utf8"), secret, {
        contextIsolation: isolated,
        nodeIntegration: this.preferences.nodeIntegration === true,
        sandbox: this.preferences.sandbox === true,
      });
      const world = isolated ? { worldName: PRELOAD_WORLD } : {};
      await cdp.send("Page.addScriptToEvaluateOnNewDocument", { source, ...world });
    }
    await cdp.send("Page.addScriptToEvaluateOnNewDocument", { source: inPage });
    page.on("framenavigated", (frame) => {
      if (frame === page.mainFrame()) this.#url = fromChromium(frame.url());
    });
    page.on("domcontentloaded", () => this.emit("dom-ready"));
    page.on("load", () => this.emit("did-finish-load"));
    page.on("crash", () => this.emit("render-process-gone", {}, { reason: "crashed" }));
    page.on("close", () => {
      this.destroyed = true;
      this.emit("destroyed");
    });
    return page;
  }

  async #evaluate(contextId: number, expression: string): Promise<void> {
    try {
      await this.#cdp?.send("Runtime.evaluate", { expression, contextId });
    } catch (error) {
      // The page has gone meanwhile; what was meant for it goes with it.
      if (!/closed|Cannot find context|Session/i.test(String(error))) throw error;
    }
  }

  async #heard(payload: string, world: number): Promise<void> {
    const message = fromWire(payload) as { kind: "invoke" | "send"; id: number; channel: string; args: unknown[] };
    const event = { sender: this.shown, senderFrame: { url: this.getURL(), parent: null } };
    let answer: object;
    try {
      const value = await this.#receive(message.kind, message.channel, event, message.args);
      answer = { kind: "answer", id: message.id, value };
      toWire(answer);
    } catch (error) {
      answer = { kind: "answer", id: message.id, error: `Error invoking remote method '${message.channel}': ${error}` };
    }
    if (message.kind === "invoke") await this.#evaluate(world, `${HEAR}(${JSON.stringify(toWire(answer))})`);
  }

  async #permission(payload: string, world: number): Promise<void> {
    const { id, kind, name } = JSON.parse(payload) as { id: number; kind: "request" | "check"; name: string };
    const granted = await this.#sessions.permission(kind, this.shown, name);
    await this.#evaluate(world, `${PERMISSION_BINDING}(${id}, ${granted})`);
  }

  get mainFrame(): SenderFrame {
    return { url: this.getURL(), parent: null };
  }
  getURL(): string {
    return this.#url;
  }
  isDestroyed(): boolean {
    return this.destroyed;
  }
  getLastWebPreferences(): WebPreferences {
    return this.preferences;
  }
  setWindowOpenHandler(handler: (details: { url: string }) => { action: string }): void {
    this.openHandler = handler;
  }
  send(channel: string, ...args: unknown[]): void {
    const text = toWire({ kind: "event", channel, args });
    if (this.#world !== null) void this.#evaluate(this.#world, `${HEAR}(${JSON.stringify(text)})`);
  }
  async loadURL(address: string): Promise<void> {
    const page = await this.page;
    const url = toChromium(address);
    this.asked.add(url);
    await page.goto(url);
  }
  reload(): void {
    void this.page.then((page) => {
      this.asked.add(page.url());
      return page.reload();
    });
  }
  /** Chromium's own PDF; what is not known here is refused rather than left out. */
  async printToPDF(options: Record<string, unknown>): Promise<Buffer> {
    const { pageSize, printBackground = false, generateTaggedPDF = false, margins, ...unknown } = options;
    if (Object.keys(unknown).length > 0) throw new Error(`printToPDF's ${Object.keys(unknown)} is not doubled`);
    // Electron's is in inches.
    const margin = Object.fromEntries(
      Object.entries((margins ?? {}) as Record<string, number>).map(([side, inches]) => [side, `${inches}in`]),
    );
    return (await this.page).pdf({
      format: (pageSize ?? "Letter") as string,
      printBackground: printBackground as boolean,
      tagged: generateTaggedPDF as boolean,
      margin,
    });
  }
  async executeJavaScript(code: string): Promise<unknown> {
    return (await this.page).evaluate(code);
  }
}
