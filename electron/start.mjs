// `npm start`: the window where an Electron runtime is here or can be had, the browser on this computer otherwise.
import { spawn } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { fetchRuntime, findRuntime } from "./runtime.mjs";
import { SetUpError, setUp } from "./setup.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));
const noOpen = process.argv.includes("--no-open");

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
