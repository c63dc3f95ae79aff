// `node tests/bench/frames.mjs`: pictures a second of the page with two fast streams. Part of `npm run bench`.
import { fileURLToPath } from "node:url";
import { createServer } from "vite";
import { buildAll } from "../../electron/build.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
await buildAll(["renderer"]);
const server = await createServer({
  root,
  configFile: false,
  logLevel: "warn",
  appType: "custom",
  optimizeDeps: { noDiscovery: true },
  server: { middlewareMode: true, hmr: false, watch: null, ws: false },
});
try {
  const { framesTable } = await server.ssrLoadModule("/tests/bench/frames.ts");
  const rows = await framesTable(fileURLToPath(new URL("../../dist/renderer", import.meta.url)));
  console.log("Pictures a second with two streams of 100 readings a second, beside none (Chromium without a screen)");
  console.table(
    rows.map(({ place, idle, streaming, ratio, longestMs }) => ({
      place,
      without: idle.toFixed(1),
      with: streaming.toFixed(1),
      ratio: ratio.toFixed(2),
      "longest wait, ms": longestMs.toFixed(0),
    })),
  );
} finally {
  await server.close();
}
