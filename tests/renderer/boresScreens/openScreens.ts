import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "@playwright/test";
import react from "@vitejs/plugin-react";
import { createServer } from "vite";
import { findBrowser } from "../../browser.mjs";

/** The page of invented sessions, served and opened in a browser. */
export interface Screens {
  readonly browser: Browser;
  readonly origin: string;
  /** Opens a scene at a size; the page is the caller's to close. */
  open(scene: string, size: readonly [number, number], query?: Readonly<Record<string, string>>): Promise<Page>;
  close(): Promise<void>;
}

/** Serves the page and starts the browser that the tests of this machine use. */
export async function openScreens(): Promise<Screens> {
  const server = await createServer({
    root: fileURLToPath(new URL("../../..", import.meta.url)),
    configFile: false,
    plugins: [react()],
    logLevel: "error",
    cacheDir: "node_modules/.cache/vite-screens",
    // A page that reloads because a file was saved would end a test halfway.
    server: { port: 0, host: "127.0.0.1", hmr: false, watch: null },
  });
  await server.listen();
  const address = server.httpServer?.address();
  if (address === null || address === undefined || typeof address === "string")
    throw new Error("the page is not served");
  const origin = `http://127.0.0.1:${address.port}`;
  const executablePath = findBrowser();
  const browser = await chromium.launch(executablePath === null ? {} : { executablePath });
  return {
    browser,
    origin,
    async open(scene, [width, height], query = {}) {
      const page = await browser.newPage({ viewport: { width, height } });
      // A busy computer takes its time; only a page that never comes is a fault.
      page.setDefaultTimeout(120_000);
      const asked = new URLSearchParams({ scene, ...query });
      await page.goto(`${origin}/tests/renderer/boresScreens/index.html?${asked}`);
      await page.waitForSelector("h1");
      return page;
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
