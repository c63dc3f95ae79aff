// Sees to what a fresh checkout lacks: installs the packages, builds the program. Each is said in one line on standard
// error, so that a command's standard output stays its own. Used by npm start, npm test and the command line.
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const BUILT = [
  "dist/renderer/index.html",
  "dist/window/main.cjs",
  "dist/window/preload.cjs",
  "dist/loopback/server.mjs",
  "dist/cli/borewright.mjs",
];
const SOURCES = ["core", "electron", "renderer", "package.json", "vite.config.ts"];

/** Thrown when the program could not be set up; the message is one sentence that says what to do. */
export class SetUpError extends Error {
  name = "SetUpError";
}

/** Installs and builds what is missing or out of date. @throws {SetUpError} */
export async function setUp({ build = true, say = (/** @type {string} */ line) => console.error(line) } = {}) {
  checkNode();
  await alone("set-up", async () => {
    const lacking = lackingPackage();
    if (lacking !== null) {
      say(`Installing the packages (${lacking}) ...`);
      await install();
    }
    if (!build) return;
    const stale = staleBuild();
    if (stale !== null) {
      say(`Building (${stale}) ...`);
      await runBuild();
    }
  });
}

function checkNode() {
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  if (major > 20 || (major === 20 && minor >= 12)) return;
  throw new SetUpError(`Node ${process.versions.node} is too old: install Node 20.12 or newer, then try again.`);
}

/** Why packages must be installed, in a few words; null when they are as the lock file says. */
export function lackingPackage() {
  const installed = readLock(join(root, "node_modules", ".package-lock.json"));
  if (installed === null) return "there are none yet";
  const wanted = readLock(join(root, "package-lock.json")) ?? {};
  for (const [path, { version, optional }] of Object.entries(wanted)) {
    if (path === "" || optional === true) continue;
    if (installed[path]?.version !== version) return `${path.slice(path.lastIndexOf("node_modules/") + 13)} ${version}`;
    if (!existsSync(join(root, path))) return `${path} was removed`;
  }
  return null;
}

/** @returns {Record<string, { version?: string, optional?: boolean }> | null} */
function readLock(/** @type {string} */ path) {
  try {
    return JSON.parse(readFileSync(path, "utf8")).packages ?? null;
  } catch {
    return null;
  }
}

/** Why the program must be built, in a few words; null when it is newer than its sources. */
export function staleBuild() {
  let oldest = Number.POSITIVE_INFINITY;
  for (const path of BUILT) {
    const found = statSync(join(root, path), { throwIfNoEntry: false });
    if (found === undefined) return "not built yet";
    oldest = Math.min(oldest, found.mtimeMs);
  }
  const newer = SOURCES.map((path) => newerThan(join(root, path), oldest)).find((path) => path !== null);
  return newer === undefined ? null : `${newer.slice(root.length)} has changed`;
}

/** @returns {string | null} */
function newerThan(/** @type {string} */ path, /** @type {number} */ timeMs) {
  const found = statSync(path, { throwIfNoEntry: false });
  if (found === undefined) return null;
  if (!found.isDirectory()) return found.mtimeMs > timeMs ? path : null;
  for (const entry of readdirSync(path)) {
    const newer = newerThan(join(path, entry), timeMs);
    if (newer !== null) return newer;
  }
  return null;
}

async function install() {
  const status = await run("npm", ["ci", "--no-audit", "--no-fund", "--loglevel=error"]);
  if (status === 0) return;
  throw new SetUpError(
    "The packages could not be installed (see above): check the network, then run npm ci here and try again.",
  );
}

async function runBuild() {
  const status = await run(process.execPath, [join(root, "electron", "build.mjs")]);
  if (status === 0) return;
  throw new SetUpError(
    "The program could not be built, for the reason above: mend that file, or take a fresh checkout, then try again.",
  );
}

/** @returns {Promise<number | null>} the exit status; the child's output goes to standard error */
function run(/** @type {string} */ command, /** @type {string[]} */ args) {
  return new Promise((resolve, reject) => {
    const shell = process.platform === "win32" && command === "npm";
    const child = spawn(command, args, { cwd: root, stdio: ["ignore", 2, 2], shell });
    child.once("error", (error) => reject(new SetUpError(`${command} could not be run (${error.message}).`)));
    child.once("exit", resolve);
  });
}

const STALE_MS = 300_000;

// Two commands started at once in a fresh checkout must not build over each other.
async function alone(/** @type {string} */ name, /** @type {() => Promise<void>} */ work) {
  const place = join(root, `.${name}.lock`);
  const end = Date.now() + STALE_MS;
  for (;;) {
    try {
      mkdirSync(place);
      break;
    } catch (error) {
      if (/** @type {NodeJS.ErrnoException} */ (error).code !== "EEXIST") throw error;
      const age = Date.now() - (statSync(place, { throwIfNoEntry: false })?.mtimeMs ?? Date.now());
      if (age > STALE_MS || Date.now() > end) rmSync(place, { recursive: true, force: true });
      else await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }
  try {
    await work();
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}
