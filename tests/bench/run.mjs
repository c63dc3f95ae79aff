// `npm run bench [-- NAME ...]`: tables of how well and how fast, each figure beside a baseline of the same run.
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "vite";
import { BUILT_TABLES, printBuiltTables } from "./builtTables.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
process.chdir(root);
const asked = process.argv.slice(2);
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
  const { TABLE_NAMES, printTables } = await import(pathToFileURL(join(out, "bench.js")).href);
  const names = [...TABLE_NAMES, ...BUILT_TABLES];
  const unknown = asked.find((name) => !names.includes(name));
  if (unknown !== undefined) {
    throw new Error(`there is no table "${unknown}"; expected some of ${names.join(", ")}, or none for all`);
  }
  const own = asked.filter((name) => TABLE_NAMES.includes(name));
  const built = BUILT_TABLES.filter((name) => asked.length === 0 || asked.includes(name));
  if (asked.length === 0 || own.length > 0) await printTables(own);
  if (built.length > 0) await printBuiltTables(built, root);
} finally {
  rmSync(out, { recursive: true, force: true });
}
