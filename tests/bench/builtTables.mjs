// Tables that are measured on the built program. Part of `npm run bench`, which runs this file with their names.
import { createServer } from "vite";
import { buildAll } from "../../electron/build.mjs";

/** Name, module below tests/bench, its function, and what stands above the table. */
const TABLES = {
  frames: [
    "frames.ts",
    "framesTable",
    "Pictures a second with two streams of 100 readings a second, beside none (Chromium without a screen)",
  ],
  replay: [
    "replayFrames.ts",
    "replayFramesTable",
    "Pictures a second while a session of 55,000 readings is replayed at 64× (Chromium without a screen)",
  ],
  paint: [
    "pressToPaint.ts",
    "pressToPaintTable",
    "From a press on a pseudo-terminal to its figure on screen (gauges simulated; Chromium without a screen)",
  ],
};
export const BUILT_TABLES = Object.keys(TABLES);

/** Builds the program, measures the tables of these names and prints them. */
export async function printBuiltTables(names, root) {
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
    for (const name of names) {
      const [file, made, title] = TABLES[name];
      const rows = await (await server.ssrLoadModule(`/tests/bench/${file}`))[made]();
      console.log(`\n${title} (${name})`);
      if (rows === null) console.log("not measured: it needs socat");
      else console.table(rows);
    }
  } finally {
    await server.close();
  }
}
