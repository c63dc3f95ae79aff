// Builds everything into dist/: the page, the window's main and preload, the loopback shell and the command line.
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { stripVTControlCharacters } from "node:util";
import { build } from "vite";

const root = fileURLToPath(new URL("..", import.meta.url));

/** What is loaded at run time from where it is installed: native code, and what Electron itself brings. */
const EXTERNAL = ["electron", "serialport"];

/**
 * @param {{ entry: string, outDir: string, fileName: string, format: "es" | "cjs" }} bundle
 * @param {string} version
 */
function nodeBundle({ entry, outDir, fileName, format }, version) {
  return build({
    root,
    configFile: false,
    logLevel: "warn",
    define: { BOREWRIGHT_VERSION: JSON.stringify(version) },
    ssr: { noExternal: true, external: EXTERNAL },
    build: {
      ssr: entry,
      outDir,
      emptyOutDir: false,
      chunkSizeWarningLimit: 5000,
      minify: false,
      sourcemap: true,
      target: "node20",
      rollupOptions: {
        external: [...EXTERNAL, /^node:/],
        output: { format, entryFileNames: fileName, codeSplitting: false },
      },
    },
  });
}

const BUNDLES = [
  { entry: "electron/window/main.ts", outDir: "dist/window", fileName: "main.cjs", format: "cjs" },
  { entry: "electron/preload/preload.ts", outDir: "dist/window", fileName: "preload.cjs", format: "cjs" },
  { entry: "electron/loopback/main.ts", outDir: "dist/loopback", fileName: "server.mjs", format: "es" },
  { entry: "electron/cli/main.ts", outDir: "dist/cli", fileName: "borewright.mjs", format: "es" },
];

/** Builds all, or only the bundles whose folder under dist/ is named. */
export async function buildAll(only = /** @type {string[]} */ ([])) {
  const { version } = JSON.parse(await readFile(`${root}package.json`, "utf8"));
  const wanted = (/** @type {string} */ name) => only.length === 0 || only.includes(name);
  if (wanted("renderer"))
    await build({ root: `${root}renderer`, configFile: `${root}vite.config.ts`, logLevel: "warn" });
  for (const bundle of BUNDLES) {
    if (!wanted(bundle.outDir.slice("dist/".length))) continue;
    if (!existsSync(root + bundle.entry)) throw new Error(`${bundle.entry} is not there`);
    await nodeBundle(bundle, version);
  }
}

const MOST_LINES = 12;

/** Why a build failed, in a few plain lines: the first error and its place, without colours and the bundler's own stack. */
export function buildTrouble(/** @type {unknown} */ error) {
  const first = /** @type {{ errors?: unknown[] }} */ (error)?.errors?.[0] ?? error;
  const lines = stripVTControlCharacters(first instanceof Error ? first.message : String(first)).split("\n");
  return lines
    .filter((line) => line.trim() !== "" && !/^\s+at /.test(line))
    .slice(0, MOST_LINES)
    .join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  try {
    await buildAll(process.argv.slice(2));
  } catch (error) {
    console.error(buildTrouble(error));
    process.exitCode = 1;
  }
}
