import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import react from "@vitejs/plugin-react";
import { build } from "vite";

/** No inline script, no inline style, nothing from elsewhere: at least as strict as either shell. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
};

export interface ServedPage {
  /** Address of the page without its query. */
  readonly address: string;
  close(): Promise<void>;
}

/** Builds the window with its stand-in host as it ships (no inlining) and serves it under a strict content policy. */
export async function servePage(): Promise<ServedPage> {
  const root = fileURLToPath(new URL("../../..", import.meta.url));
  const outDir = mkdtempSync(join(tmpdir(), "window-page-"));
  await build({
    root,
    base: "./",
    configFile: false,
    plugins: [react()],
    logLevel: "error",
    build: {
      outDir,
      emptyOutDir: true,
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      target: "chrome130",
      rolldownOptions: { input: join(root, "tests/renderer/windowPage/index.html") },
    },
  });
  const server = createServer((request, response) => {
    const path = normalize(new URL(request.url ?? "/", "http://page").pathname);
    try {
      const content = readFileSync(join(outDir, path));
      response.writeHead(200, {
        "content-type": TYPES[extname(path)] ?? "application/octet-stream",
        "content-security-policy": POLICY,
      });
      response.end(content);
    } catch {
      response.writeHead(path === "/favicon.ico" ? 204 : 404);
      response.end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/tests/renderer/windowPage/index.html`,
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
      rmSync(outDir, { recursive: true, force: true });
    },
  };
}
