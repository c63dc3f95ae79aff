// `npm run bench [-- NAME ...]`: tables of how well and how fast, each figure beside a baseline of the same run.
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "vite";

const root = fileURLToPath(new URL("../..", import.meta.url));
process.chdir(root);
const asked = process.argv.slice(2);
/** Tables that need the built page; the others are in bench.ts. */
const APART = ["frames", "paint"];
const out = mkdtempSync(join(tmpdir(), "borewright-bench-"));
try {
  symlinkSync(join(root, "node_modules"), join(out, "node_modules"), "junction");
  await build({
    root,
    configFile: false,
    logLevel: "warn",
    ssr: { noExternal: true, external: ["serialport", "@playwright/test"] },
    build: { ssr: "tests/bench/bench.ts", outDir: out, emptyOutDir: false, minify: false, target: "node20" },
  });
  await import(pathToFileURL(join(out, "bench.js")).href);
  for (const name of APART) if (asked.length === 0 || asked.includes(name)) await import(`./${name}.mjs`);
} finally {
  rmSync(out, { recursive: true, force: true });
}
