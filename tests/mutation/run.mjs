// npm run mutation -- ROOM … [FILE …]: mutates the rooms of core/ that are named, or all that have a list of tests, and
// prints what was not noticed and the score. With files of one room (core/sweep/median.ts) only those are mutated.
import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { rooms } from "./rooms.mjs";

const top = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const named = process.argv.slice(2);
const files = named.filter((name) => name.includes("/"));
const wanted = new Set(named.filter((name) => !name.includes("/")));
for (const file of files) wanted.add(/^core\/([^/]+)\/./.exec(file)?.[1] ?? file);
if (wanted.size === 0) for (const room of Object.keys(rooms)) wanted.add(room);

for (const room of wanted) {
  if (room in rooms) continue;
  console.error(
    `mutation: "${room}" is no room that has a list of tests in tests/mutation/rooms.mjs; expected ${Object.keys(rooms).join(", ")}, or files such as core/sweep/median.ts.`,
  );
  process.exit(2);
}

let good = true;
for (const room of wanted) {
  console.log(`\n== core/${room}`);
  const here = files.filter((file) => file.startsWith(`core/${room}/`));
  const { status } = spawnSync(
    process.execPath,
    [
      join(top, "node_modules", "@stryker-mutator", "core", "bin", "stryker.js"),
      "run",
      ...(here.length > 0 ? ["--mutate", here.join(",")] : []),
    ],
    { cwd: top, stdio: "inherit", env: { ...process.env, MUTATION_ROOM: room } },
  );
  good &&= status === 0;
}
process.exitCode = good ? 0 : 1;
