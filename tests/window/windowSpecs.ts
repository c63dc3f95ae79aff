import type { Page } from "@playwright/test";
import { expect } from "vitest";
import type { Bridge, HostEvent } from "../../core/bridge/messages.ts";
import type { WindowShell } from "./windowShell.ts";

/** One property of the window shell; it throws where the shell lacks it. */
export interface WindowSpec {
  readonly name: string;
  run(shell: WindowShell, page: Page): Promise<void>;
}

declare global {
  interface Window {
    borewright: Bridge;
  }
}

const APP = "app://borewright";

const call = (page: Page, method: string, input: unknown): Promise<{ ok: boolean; [key: string]: unknown }> =>
  page.evaluate(([name, given]) => window.borewright.call(name as never, given as never), [method, input] as const);

const fetchFile = (shell: WindowShell, address: string, method = "GET") =>
  shell.evaluate(
    async ({ net }, [at, how]) => {
      const response = await net.fetch(at, { method: how, bypassCustomProtocolHandlers: false });
      return {
        status: response.status,
        policy: response.headers.get("content-security-policy") ?? "",
        sniff: response.headers.get("x-content-type-options") ?? "",
        text: (await response.text()).slice(0, 2000),
      };
    },
    [address, method] as const,
  );

/** Gives a wrong thing the time to happen before one says that it did not. */
const settle = () => new Promise((resolve) => setTimeout(resolve, 400));

export const windowSpecs: readonly WindowSpec[] = [
  {
    name: "one window opens and shows the Start place",
    run: async (shell, page) => {
      await page.waitForSelector("#root > *");
      await expect.poll(() => page.title()).toMatch(/^Start\b.*Borewright$/);
      await page.getByRole("heading").first().waitFor();
      const shown = await shell.evaluate(
        ({ BrowserWindow }) => BrowserWindow.getAllWindows().map((w) => w.isVisible()),
        0,
      );
      expect(shown).toEqual([true]);
    },
  },
  {
    name: "the page has the bridge and nothing else of the machine",
    run: async (_shell, page) => {
      const seen = await page.evaluate(() => ({
        bridge: Object.keys(window.borewright ?? {}).sort(),
        machine: ["require", "process", "module", "Buffer", "ipcRenderer", "electron", "__dirname", "global"].filter(
          (name) => name in window,
        ),
      }));
      expect(seen).toEqual({ bridge: ["call", "listen"], machine: [] });
    },
  },
  {
    name: "the page cannot change the bridge",
    run: async (_shell, page) => {
      const changed = await page.evaluate(() => {
        const before = window.borewright.call;
        try {
          (window.borewright as { call: unknown }).call = () => "mine";
        } catch {}
        try {
          (window as { borewright: unknown }).borewright = {};
        } catch {}
        return window.borewright.call !== before;
      });
      expect(changed).toBe(false);
    },
  },
  {
    name: "the window is isolated, sandboxed and without Node",
    run: async (shell) => {
      const preferences = await shell.evaluate(({ BrowserWindow }) => {
        const [window] = BrowserWindow.getAllWindows();
        const contents = window?.webContents as unknown as { getLastWebPreferences(): Record<string, unknown> };
        const { contextIsolation, sandbox, nodeIntegration, webviewTag, webSecurity, ...others } =
          contents.getLastWebPreferences();
        return {
          contextIsolation,
          sandbox,
          nodeIntegration,
          webviewTag,
          webSecurity,
          // Absent where it is left at what the runtime has it.
          inWorkers: others.nodeIntegrationInWorker ?? false,
          inFrames: others.nodeIntegrationInSubFrames ?? false,
          insecureContent: others.allowRunningInsecureContent ?? false,
          experiments: others.experimentalFeatures ?? false,
          features: others.enableBlinkFeatures ?? "",
          goesWhereDropped: others.navigateOnDragDrop ?? false,
        };
      }, 0);
      expect(preferences).toEqual({
        contextIsolation: true,
        sandbox: true,
        nodeIntegration: false,
        webviewTag: false,
        webSecurity: true,
        inWorkers: false,
        inFrames: false,
        insecureContent: false,
        experiments: false,
        features: "",
        goesWhereDropped: false,
      });
    },
  },
  {
    name: "a call goes to the host and its answer comes back",
    run: async (_shell, page) => {
      const answer = await call(page, "app.info", {});
      expect(answer).toMatchObject({ ok: true, value: { shell: "window", mayAct: true } });
    },
  },
  {
    name: "a payload that makes no sense gives an envelope that says so",
    run: async (_shell, page) => {
      for (const [method, input] of [
        ["session.act", { action: { type: "no such thing" } }],
        ["session.open", { id: 7 }],
        ["no.such.method", {}],
        [7, {}],
      ] as const) {
        const answer = await call(page, method as string, input);
        expect(answer, String(method)).toMatchObject({ ok: false });
        expect(typeof answer.code).toBe("string");
        expect(String(answer.message).length).toBeGreaterThan(10);
      }
    },
  },
  {
    name: "what the host tells reaches the page, until it stops listening",
    run: async (_shell, page) => {
      const heard = await page.evaluate(async () => {
        const events: HostEvent[] = [];
        let told = () => {};
        const stop = window.borewright.listen((event) => {
          if (event.type === "session") events.push(event);
          if (event.type === "session") told();
        });
        const news = async () => {
          const one = new Promise<void>((resolve) => {
            told = resolve;
            setTimeout(resolve, 2000);
          });
          // With every closing the host says which session is open now: none.
          await window.borewright.call("session.close", {});
          await one;
        };
        await news();
        stop();
        await window.borewright.call("session.close", {});
        await new Promise((resolve) => setTimeout(resolve, 200));
        return events;
      });
      expect(heard).toEqual([{ type: "session", session: null }]);
    },
  },
  {
    name: "a page that is not the program's own is refused, with the same preload",
    run: async (shell) => {
      const answer = await shell.evaluate(async ({ BrowserWindow }) => {
        const [own] = BrowserWindow.getAllWindows();
        const contents = own?.webContents as unknown as { getLastWebPreferences(): { preload: string } };
        const { preload } = contents.getLastWebPreferences();
        const foreign = new BrowserWindow({ show: false, webPreferences: { preload } });
        await foreign.loadURL("data:text/html,<title>foreign</title>");
        const said: unknown = await foreign.webContents.executeJavaScript(
          `window.borewright.call("app.info", {}).catch((error) => ({ ok: false, message: String(error) }))`,
        );
        foreign.destroy();
        return said;
      }, 0);
      expect(answer).toMatchObject({ ok: false });
    },
  },
  {
    name: "a second window with the program's own page is refused",
    run: async (shell) => {
      const answer = await shell.evaluate(async ({ BrowserWindow }, address) => {
        const [own] = BrowserWindow.getAllWindows();
        const contents = own?.webContents as unknown as { getLastWebPreferences(): { preload: string } };
        const { preload } = contents.getLastWebPreferences();
        const second = new BrowserWindow({ show: false, webPreferences: { preload } });
        await second.loadURL(address);
        const said: unknown = await second.webContents.executeJavaScript(
          `window.borewright.call("app.info", {}).catch((error) => ({ ok: false, message: String(error) }))`,
        );
        second.destroy();
        return said;
      }, `${APP}/index.html`);
      expect(answer).toMatchObject({ ok: false });
    },
  },
  {
    name: "the page cannot go to another address",
    run: async (_shell, page) => {
      const before = page.url();
      await page.evaluate(() => {
        window.location.href = "https://outside.example/";
      });
      await settle();
      await page.evaluate(() => {
        const link = document.createElement("a");
        link.href = "https://outside.example/link";
        document.body.append(link);
        link.click();
        link.remove();
      });
      await settle();
      expect(page.url()).toBe(before);
      expect(await page.title()).toMatch(/Borewright$/);
    },
  },
  {
    name: "redirects and embedded views are prevented",
    run: async (shell) => {
      const prevented = await shell.evaluate(({ BrowserWindow }) => {
        const contents = BrowserWindow.getAllWindows()[0]?.webContents;
        return ["will-redirect", "will-frame-navigate", "will-navigate", "will-attach-webview"].filter((name) => {
          let stopped = false;
          const event = { url: "https://outside.example/", preventDefault: () => (stopped = true) };
          (contents as unknown as { emit(name: string, ...args: unknown[]): void }).emit(name, event, {}, {});
          return stopped;
        });
      }, 0);
      expect(prevented).toEqual(["will-redirect", "will-frame-navigate", "will-navigate", "will-attach-webview"]);
    },
  },
  {
    name: "the page cannot open another window",
    run: async (shell, page) => {
      const before = (await shell.windows()).length;
      await page.evaluate(() => {
        window.open("https://outside.example/");
        window.open("about:blank");
      });
      await settle();
      await expect.poll(async () => (await shell.windows()).length, { timeout: 5000 }).toBe(before);
      expect(before).toBe(1);
    },
  },
  {
    name: "the page is given no permission, whether it asks or looks",
    run: async (_shell, page) => {
      const answers = await page.evaluate(async () => [
        await Notification.requestPermission(),
        (await navigator.permissions.query({ name: "notifications" })).state,
        (await navigator.permissions.query({ name: "camera" as PermissionName })).state,
      ]);
      expect(answers).toEqual(["denied", "denied", "denied"]);
    },
  },
  {
    name: "every answer to the page carries a content policy that begins with nothing",
    run: async (shell) => {
      for (const path of ["/index.html", "/no-such-file.js"]) {
        const { policy, sniff } = await fetchFile(shell, `${APP}${path}`);
        expect(policy).toMatch(/^default-src 'none'; script-src 'self';/);
        expect(policy).not.toMatch(/unsafe-(eval|inline)(?!.*style)|\*/);
        for (const part of ["base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"])
          expect(policy).toContain(part);
        expect(sniff).toBe("nosniff");
      }
    },
  },
  {
    name: "the content policy holds in the page: no code from text, no script written into it, no word to the outside",
    run: async (_shell, page) => {
      const got = await page.evaluate(async () => {
        const tried: string[] = [];
        // What the debugger runs at once is above the policy; a moment later the page's own law holds.
        await new Promise((resolve) => setTimeout(resolve, 0));
        try {
          // biome-ignore lint/security/noGlobalEval: this is what the policy must refuse.
          globalThis.eval("1");
          tried.push("eval");
        } catch {}
        const script = document.createElement("script");
        script.textContent = "window.written = true";
        document.head.append(script);
        script.remove();
        if ("written" in window) tried.push("script");
        const refused = new Promise<boolean>((resolve) => {
          document.addEventListener("securitypolicyviolation", (event) => {
            if (event.violatedDirective === "connect-src") resolve(true);
          });
          setTimeout(() => resolve(false), 2000);
        });
        await fetch("https://outside.example/").catch(() => {});
        if (!(await refused)) tried.push("fetch");
        return tried;
      });
      expect(got).toEqual([]);
    },
  },
  {
    name: "every place of the page lives within the content policy",
    run: async (_shell, page) => {
      const refused: string[] = [];
      const listen = (message: { text(): string }) => {
        if (/content security policy|refused to/i.test(message.text())) refused.push(message.text());
      };
      page.on("console", listen);
      await page.reload();
      const places = page.getByRole("navigation").first().locator("a, button");
      await places.first().waitFor();
      const count = await places.count();
      for (let index = 0; index < count; index += 1) await places.nth(index).click();
      page.off("console", listen);
      expect(refused).toEqual([]);
      expect(count).toBeGreaterThanOrEqual(5);
    },
  },
  {
    name: "no address leads out of the page's folder, and only reading is answered",
    run: async (shell) => {
      expect((await fetchFile(shell, `${APP}/index.html`)).text).toContain('id="root"');
      for (const path of [
        "/..%2fwindow%2fmain.cjs",
        "/..%2f..%2fpackage.json",
        "/%2e%2e%2f%2e%2e%2fpackage.json",
        "/assets/..%2f..%2fwindow/main.cjs",
        "/..%5cwindow%5cmain.cjs",
        "/%00index.html",
        "/.%2f..%2fwindow/preload.cjs",
        "/%2fetc%2fhostname",
        "/",
      ]) {
        const { status, text } = await fetchFile(shell, `${APP}${path}`);
        expect(status, path).toBeGreaterThanOrEqual(400);
        expect(text, path).toBe("");
      }
      expect((await fetchFile(shell, "app://elsewhere/index.html")).status).toBeGreaterThanOrEqual(400);
      expect((await fetchFile(shell, `${APP}/index.html`, "POST")).status).toBe(405);
    },
  },
];
