// `node tests/bench/paint.mjs`: from a press to its figure on screen, beside a bare echo. Part of `npm run bench`.
import { fileURLToPath } from "node:url";
import { createServer } from "vite";
import { buildAll } from "../../electron/build.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
await buildAll();
const server = await createServer({
  root,
  configFile: false,
  logLevel: "warn",
  appType: "custom",
  optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, hmr: false, watch: null, ws: false },
});
try {
  const { pressToPaintTable } = await server.ssrLoadModule("/tests/bench/pressToPaint.ts");
  const table = await pressToPaintTable();
  console.log(
    "From a press on a pseudo-terminal to its figure on screen (gauges simulated; Chromium without a screen)",
  );
  if (table === null) console.log("not measured: it needs socat");
  else console.table(table);
} finally {
  await server.close();
}
