// npm run long -- ROOM [NUMBER] [SEED]: a test of the suite with a number that would be too large for it, or a script
// that no test could wait for. The seed is printed; the same one makes the same run.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "vite";
import { rooms } from "./rooms.mjs";

const top = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const [name = "", number, seed = String(Date.now() % 2_147_483_647)] = process.argv.slice(2);
const room = Object.hasOwn(rooms, name) ? rooms[name] : undefined;
const whole = (text) => /^[1-9]\d{0,9}$/.test(text);

if (room === undefined || !whole(number ?? "1") || !whole(seed)) {
  const list = Object.entries(rooms).map(([each, { does, number: usual }]) => `  ${each}  ${does} (${usual})`);
  console.error(`npm run long -- ROOM [NUMBER] [SEED], whole numbers above 0; the rooms are\n${list.join("\n")}`);
  process.exit(2);
}

const run = (args, env = {}) =>
  spawnSync(process.execPath, args, { cwd: top, stdio: "inherit", env: { ...process.env, ...env } }).status === 0;
const wanted = number ?? String(room.number);
console.log(`${name}: ${wanted}, seed ${seed}`);

/** A script of its own, bundled as the program is, as no test may take so long. */
async function script(path) {
  const out = mkdtempSync(join(tmpdir(), "borewright-long-"));
  try {
    symlinkSync(join(top, "node_modules"), join(out, "node_modules"), "junction");
    await build({
      root: top,
      configFile: false,
      logLevel: "warn",
      ssr: { noExternal: true, external: ["fast-check"] },
      build: { ssr: path, outDir: out, emptyOutDir: false, minify: false, target: "node20" },
    });
    return run([join(out, basename(path).replace(/\.ts$/, ".js"))], { LONG_NUMBER: wanted, LONG_SEED: seed });
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

const good =
  room.script === undefined
    ? (room.builds === undefined || run([join(top, "electron", "build.mjs"), ...room.builds])) &&
      run([join(top, "node_modules", "vitest", "vitest.mjs"), "run", "--project", room.project, room.file], {
        LONG_NUMBER: wanted,
        LONG_SEED: seed,
      })
    : await script(room.script);
console.log(`${name}: ${wanted}, seed ${seed}: ${good ? "good" : "FAILED"}`);
process.exitCode = good ? 0 : 1;
