import { builtinModules, createRequire } from "node:module";
import { dirname, join } from "node:path";
import { type BrowserContext, chromium, type Page, type Request as PageRequest, type Route } from "@playwright/test";
import { findBrowser } from "../../browser.mjs";
import type { WindowShell } from "../windowShell.ts";
import { fromChromium } from "./addresses.ts";
import { Contents, type Receive, type WebPreferences } from "./Contents.ts";
import { Sessions } from "./Sessions.ts";
import { StrictEmitter } from "./StrictEmitter.ts";
import { strict } from "./strict.ts";

type Handler = (event: unknown, ...args: unknown[]) => unknown;
type Protocol = (request: Request) => Promise<Response>;
interface Bounds {
  x: number;
  y: number;
  width: number;
  height: number;
}

const nodeRequire = createRequire(import.meta.url);
const loader = nodeRequire("node:module") as { _load(request: string, parent: unknown, main: boolean): unknown };
/** Programs running, by the folder of their user data; a second one in the same folder does not get the lock. */
const running = new Map<string, StrictEmitter>();

const APP_EVENTS = [
  "second-instance",
  "window-all-closed",
  "before-quit",
  "will-quit",
  "web-contents-created",
  "activate",
  "open-file",
];
const WINDOW_EVENTS = ["ready-to-show", "close", "closed"];

/** What the operating system was asked for, for the specs to look at. */
export interface Asked {
  readonly errors: string[];
  /** Questions asked in a box; `answer` is the button pressed. */
  readonly questions: unknown[];
  answer: number;
  readonly menus: unknown[];
  readonly lit: Set<number>;
  readonly schemes: unknown[];
}

/** Runs a built main file against the double, on Chromium. The folder takes the program's user data and its sessions. */
export async function launchDouble(main: string, userData: string): Promise<WindowShell & { readonly asked: Asked }> {
  const executablePath = findBrowser();
  const root = process.getuid?.() === 0;
  const browser = await chromium.launch({
    ...(executablePath === null ? {} : { executablePath }),
    args: root ? ["--no-sandbox"] : [],
  });
  const context: Promise<BrowserContext> = browser.newContext({ viewport: null });
  const asked: Asked = { errors: [], questions: [], answer: 0, menus: [], lit: new Set(), schemes: [] };
  const handlers = new Map<string, Handler>();
  const protocols = new Map<string, Protocol>();
  const windows: BrowserWindow[] = [];
  const sessions = new Sessions();
  const app = new StrictEmitter("app", APP_EVENTS);
  let end: () => void = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  let locked = false;

  const receive: Receive = async (kind, channel, event, args) => {
    const handler = handlers.get(`${kind} ${channel}`);
    if (handler === undefined) throw new Error(`No handler registered for '${channel}'`);
    return handler(event, ...args);
  };

  class BrowserWindow extends StrictEmitter {
    readonly #contents: Contents;
    #bounds: Bounds;
    #maximized = false;
    #fullScreen = false;
    #minimized = false;
    #destroyed = false;
    visible: boolean;
    constructor(options: Partial<Bounds> & { show?: boolean; webPreferences?: WebPreferences }) {
      super("BrowserWindow", WINDOW_EVENTS);
      const { x = 0, y = 0, width = 800, height = 600 } = options;
      this.#bounds = { x, y, width, height };
      this.visible = options.show !== false;
      this.#contents = new Contents(context, options.webPreferences ?? {}, sessions, receive);
      this.#contents.once("dom-ready", () => this.emit("ready-to-show"));
      this.#contents.once("destroyed", () => this.#gone());
      windows.push(this);
      app.emit("web-contents-created", {}, this.#contents.shown);
      // biome-ignore lint/correctness/noConstructorReturn: what main holds must throw on whatever is not doubled.
      return strict("BrowserWindow", this);
    }
    static getAllWindows() {
      return [...windows];
    }
    get webContents() {
      return this.#contents.shown;
    }
    get contents() {
      return this.#contents;
    }
    loadURL(address: string) {
      return this.#contents.loadURL(address);
    }
    #gone() {
      if (this.#destroyed) return;
      this.#destroyed = true;
      windows.splice(
        windows.findIndex((other) => other.contents === this.#contents),
        1,
      );
      this.emit("closed");
      if (windows.length === 0) app.emit("window-all-closed");
    }
    close() {
      if (this.#destroyed || this.ask("close", {})) return;
      this.destroy();
    }
    destroy() {
      void this.#contents.page.then((page) => page.close()).catch(() => {});
      this.#gone();
    }
    isDestroyed() {
      return this.#destroyed;
    }
    show() {
      this.visible = true;
    }
    isVisible() {
      return this.visible;
    }
    focus() {}
    isMinimized() {
      return this.#minimized;
    }
    minimize() {
      this.#minimized = true;
    }
    restore() {
      this.#minimized = false;
    }
    maximize() {
      this.#maximized = true;
    }
    isMaximized() {
      return this.#maximized;
    }
    setFullScreen(on: boolean) {
      this.#fullScreen = on;
    }
    isFullScreen() {
      return this.#fullScreen;
    }
    setBounds(bounds: Partial<Bounds>) {
      this.#bounds = { ...this.#bounds, ...bounds };
    }
    getNormalBounds() {
      return { ...this.#bounds };
    }
  }

  const find = (page: Page | null) => async () => {
    for (const window of windows) if ((await window.contents.page) === page) return window.contents;
    return null;
  };

  const serve = async (route: Route, request: PageRequest, address: string) => {
    const protocol = protocols.get(new URL(address).protocol.slice(0, -1));
    if (protocol === undefined) return route.abort("addressunreachable");
    const response = await protocol(new Request(address, { method: request.method() }));
    await route.fulfill({
      status: response.status,
      headers: Object.fromEntries(response.headers),
      body: Buffer.from(await response.arrayBuffer()),
    });
  };

  const pageOf = (request: PageRequest): Page | null => {
    try {
      return request.frame().page();
    } catch {
      return null;
    }
  };

  const onRequest = async (route: Route, request: PageRequest) => {
    const address = fromChromium(request.url());
    const outside = address === request.url();
    if (!request.isNavigationRequest()) return outside ? route.abort() : serve(route, request, address);
    const page = pageOf(request);
    const contents = await find(page)();
    if (page === null || contents === null) return route.abort();
    const isMainFrame = request.frame() === page.mainFrame();
    if (!(isMainFrame && contents.asked.delete(request.url()))) {
      const details = { url: address, isMainFrame };
      const prevented = contents.ask("will-frame-navigate", details);
      if ((isMainFrame && contents.ask("will-navigate", details)) || prevented) return route.abort("aborted");
    }
    if (outside) return route.fulfill({ contentType: "text/html", body: "<title>Outside</title>" });
    return serve(route, request, address);
  };

  const ready = context.then(async (made) => {
    await made.route("**/*", (route, request) => {
      onRequest(route, request).catch((error: unknown) => {
        if (!/closed|handled/i.test(String(error))) asked.errors.push(String(error));
      });
    });
    made.on("page", async (page) => {
      const opener = await find(await page.opener())();
      if (opener === null) return;
      const allowed = opener.openHandler === null || opener.openHandler({ url: page.url() }).action !== "deny";
      if (!allowed) await page.close();
    });
  });

  const quit = () => {
    if (app.ask("before-quit", {})) return;
    for (const window of [...windows]) window.close();
    if (windows.length > 0 || app.ask("will-quit", {})) return;
    end();
  };

  let lastBlocker = 0;
  const electron = strict("", {
    app: strict(
      "app",
      Object.assign(app, {
        isPackaged: false,
        whenReady: () => ready,
        getVersion: () => "0.0.0",
        getPath: (name: string) => {
          if (name !== "userData") throw new Error(`electron.app.getPath("${name}") is not doubled`);
          return userData;
        },
        requestSingleInstanceLock: (told?: unknown) => {
          const first = running.get(userData);
          if (first !== undefined) first.emit("second-instance", {}, [], userData, structuredClone(told ?? {}));
          else {
            running.set(userData, app);
            locked = true;
          }
          return first === undefined;
        },
        enableSandbox: () => {},
        quit,
        exit: () => end(),
      }),
    ),
    BrowserWindow,
    ipcMain: strict("ipcMain", {
      handle: (channel: string, handler: Handler) => {
        if (handlers.has(`invoke ${channel}`))
          throw new Error(`Attempted to register a second handler for '${channel}'`);
        handlers.set(`invoke ${channel}`, handler);
      },
      on: (channel: string, handler: Handler) => handlers.set(`send ${channel}`, handler),
    }),
    protocol: strict("protocol", {
      registerSchemesAsPrivileged: (schemes: unknown[]) => asked.schemes.push(...schemes),
      handle: (scheme: string, handler: Protocol) => protocols.set(scheme, handler),
    }),
    net: strict("net", {
      fetch: async (address: string, options?: RequestInit) => {
        const protocol = protocols.get(new URL(address).protocol.slice(0, -1));
        if (protocol === undefined) throw new Error("net::ERR_UNKNOWN_URL_SCHEME");
        return protocol(new Request(address, options));
      },
    }),
    session: strict("session", { defaultSession: sessions.defaultSession }),
    Menu: strict("Menu", {
      buildFromTemplate: (template: unknown[]) => strict("Menu", { items: template }),
      setApplicationMenu: (menu: unknown) => asked.menus.push(menu),
    }),
    dialog: strict("dialog", {
      showMessageBox: async (_window: unknown, options: unknown) => {
        asked.questions.push(options);
        return { response: asked.answer };
      },
      // Nobody is there to choose a place; a spec that wants one puts an answer of its own here.
      showSaveDialog: async () => ({ canceled: true, filePath: "" }),
      showErrorBox: (title: string, text: string) => asked.errors.push(`${title}: ${text}`),
    }),
    powerSaveBlocker: strict("powerSaveBlocker", {
      start: () => {
        asked.lit.add(++lastBlocker);
        return lastBlocker;
      },
      stop: (id: number) => asked.lit.delete(id),
    }),
    screen: strict("screen", {
      getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }],
    }),
  });

  const folder = dirname(main);
  const load = loader._load;
  const doubledLoad: typeof load = (request, parent, isMain) => {
    const from = (parent as { filename?: string } | undefined)?.filename;
    if (from !== undefined && dirname(from) === folder) {
      if (request === "electron") return electron;
      // A copy of the program outside the checkout has no packages beside it.
      if (!request.startsWith(".") && !/^node:/.test(request) && !builtinModules.includes(request))
        return nodeRequire(request);
    }
    return load.call(loader, request, parent, isMain);
  };
  loader._load = doubledLoad;
  const folderBefore = process.env.BOREWRIGHT_FOLDER;
  process.env.BOREWRIGHT_FOLDER = join(userData, "sessions");
  const path = nodeRequire.resolve(main);
  delete nodeRequire.cache[path];
  nodeRequire(path);

  return {
    asked,
    kind: "a double of the electron module",
    evaluate: async (work, argument) => work(electron as never, argument),
    windows: async () => {
      const pages = (await context).pages();
      return pages.filter((page) => !page.isClosed());
    },
    firstWindow: async () => {
      const deadline = Date.now() + 20_000;
      while (windows.length === 0) {
        if (Date.now() > deadline) throw new Error(`no window opened: ${asked.errors.join("; ") || "no reason given"}`);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      const [first] = windows;
      if (first === undefined) throw new Error("the window has gone");
      const page = await first.contents.page;
      await page.waitForURL((url) => url.href !== "about:blank");
      await page.waitForLoadState("load");
      return page;
    },
    ended,
    close: async () => {
      const { app: doubled } = electron;
      doubled.quit();
      await Promise.race([ended, new Promise((resolve) => setTimeout(resolve, 12_000))]);
      if (locked) running.delete(userData);
      if (folderBefore === undefined) delete process.env.BOREWRIGHT_FOLDER;
      else process.env.BOREWRIGHT_FOLDER = folderBefore;
      if (loader._load === doubledLoad) loader._load = load;
      // A program that ended at once may have left the browser still opening.
      await ready;
      await browser.close();
    },
  };
}
