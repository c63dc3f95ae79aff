// The Electron runtime: where it is, and how it is fetched. Used by npm start and npm run package.
import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

const FETCH_MS = 20_000;

/** Folder of the installed electron package, which has the types and a fetcher but not always the runtime itself. */
function electronFolder() {
  try {
    return dirname(createRequire(import.meta.url).resolve("electron/package.json"));
  } catch {
    return null;
  }
}

/** The runtime's program, or null. The package itself is never loaded: it would fetch by itself and without a limit. */
export function findRuntime() {
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

/** Lets the electron package fetch its runtime, for at most `fetchMs`. @returns {Promise<string>} "" or why it failed */
export function fetchRuntime(fetchMs = FETCH_MS) {
  const folder = electronFolder();
  if (folder === null || !existsSync(join(folder, "install.js"))) return Promise.resolve("it is not installed");
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [join(folder, "install.js")], { stdio: "ignore" });
    const late = setTimeout(() => {
      child.kill("SIGKILL");
      resolve(`it could not be fetched within ${fetchMs / 1000} s`);
    }, fetchMs);
    child.once("error", () => resolve("its fetcher does not run"));
    child.once("exit", (status) => {
      clearTimeout(late);
      resolve(status === 0 ? "" : "it could not be fetched from here");
    });
  });
}
