// npm run long -- ROOM [NUMBER] [SEED]: a test of the suite with a number that would be too large for it. The seed is
// printed; the same one makes the same run.
import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
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
const good =
  (room.builds === undefined || run([join(top, "electron", "build.mjs"), ...room.builds])) &&
  run([join(top, "node_modules", "vitest", "vitest.mjs"), "run", "--project", room.project, room.file], {
    LONG_NUMBER: wanted,
    LONG_SEED: seed,
  });
console.log(`${name}: ${wanted}, seed ${seed}: ${good ? "good" : "FAILED"}`);
process.exitCode = good ? 0 : 1;
