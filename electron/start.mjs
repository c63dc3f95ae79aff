// `npm start`: the window where an Electron runtime is here or can be had, the browser on this computer otherwise.
import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { SetUpError, setUp } from "./setup.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const FETCH_MS = 20_000;
const noOpen = process.argv.includes("--no-open");

/** Folder of the installed electron package, which has the types and a fetcher but not always the runtime itself. */
function electronFolder() {
  try {
    return dirname(createRequire(import.meta.url).resolve("electron/package.json"));
  } catch {
    return null;
  }
}

/** The runtime's program, or null. The package itself is never loaded: it would fetch by itself and without a limit. */
function findRuntime() {
  const folder = electronFolder();
  const named = folder === null ? null : readOr(join(folder, "path.txt"), null);
  const usual =
    process.platform === "win32"
      ? "electron.exe"
      : process.platform === "darwin"
        ? "Electron.app/Contents/MacOS/Electron"
        : "electron";
  const own = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  const places = [
    ...(own ? [join(own, named ?? usual), join(own, usual)] : []),
    ...(folder === null ? [] : [join(folder, "dist", named ?? usual)]),
  ];
  return places.find((path) => existsSync(path)) ?? null;
}

function readOr(/** @type {string} */ path, /** @type {string | null} */ otherwise) {
  try {
    return readFileSync(path, "utf8").trim();
  } catch {
    return otherwise;
  }
}

/** Lets the electron package fetch its runtime, for at most `FETCH_MS`. @returns {Promise<string>} "" or why it failed */
function fetchRuntime() {
  const folder = electronFolder();
  if (folder === null || !existsSync(join(folder, "install.js"))) return Promise.resolve("it is not installed");
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(folder, "install.js")], { stdio: "ignore" });
    const late = setTimeout(() => {
      child.kill("SIGKILL");
      resolve(`it could not be fetched within ${FETCH_MS / 1000} s`);
    }, FETCH_MS);
    child.once("error", () => resolve("its fetcher does not run"));
    child.once("exit", (status) => {
      clearTimeout(late);
      resolve(status === 0 ? "" : "it could not be fetched from here");
    });
  });
}

/** Why no window can be shown, in a few words; null when one can. @returns {Promise<string | null>} */
async function whyNoWindow() {
  if (process.platform === "linux" && !process.env.DISPLAY && !process.env.WAYLAND_DISPLAY)
    return "there is no display";
  if (findRuntime() !== null) return null;
  console.log("Fetching the Electron runtime ...");
  const why = await fetchRuntime();
  return findRuntime() === null ? `there is no Electron runtime (${why || "it is not where it should be"})` : null;
}

/** Runs a program until it ends, passing on what stops this one. @returns {Promise<number>} its exit status */
function runToEnd(/** @type {string} */ command, /** @type {string[]} */ args) {
  return new Promise((resolve, reject) => {
    const child = spawn(command, args, { stdio: "inherit" });
    // A terminal sends Ctrl-C to both; the child ends in its own time and this one waits for it.
    process.on("SIGINT", () => {});
    for (const signal of /** @type {const} */ (["SIGTERM", "SIGHUP"])) process.on(signal, () => child.kill(signal));
    child.once("error", reject);
    child.once("exit", (status, signal) => resolve(status ?? (signal === null ? 0 : 1)));
  });
}

async function start() {
  await setUp();
  const why = await whyNoWindow();
  const runtime = findRuntime();
  if (why === null && runtime !== null) return runToEnd(runtime, [root]);
  console.log(`No window, as ${why}: Borewright runs in the browser instead, with everything it does.`);
  return runToEnd(process.execPath, [join(root, "dist/loopback/server.mjs"), ...(noOpen ? ["--no-open"] : [])]);
}

try {
  process.exitCode = await start();
} catch (error) {
  if (!(error instanceof SetUpError)) throw error;
  console.error(error.message);
  process.exitCode = 1;
}
