// `npm run package`: installers for the system it runs on, in dist/installers. `--dir` stops at the unpacked program.
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { fetchRuntime, findRuntime } from "../runtime.mjs";
import { SetUpError, setUp } from "../setup.mjs";
import { configOf } from "./config.mjs";
import { stage } from "./stage.mjs";

const root = fileURLToPath(new URL("../..", import.meta.url));
const FETCH_MS = 300_000;

/** The folder of the unpacked runtime that holds its program. */
function runtimeFolder(/** @type {string} */ program) {
  // On macOS the program lies three folders deep in the one that is packed.
  return process.platform === "darwin" ? dirname(dirname(dirname(dirname(program)))) : dirname(program);
}

/**
 * Packs the staged program. @throws what the packager throws: a configuration that its schema refuses among it.
 * @param {{ app: string, output: string, runtime: string, onlyFolder: boolean, change?: Record<string, unknown> }} wanted
 */
export async function pack({ app, output, runtime, onlyFolder, change = {} }) {
  const { build, Platform } = await import("electron-builder");
  const { version } = JSON.parse(await readFile(join(root, "node_modules/electron/package.json"), "utf8"));
  return build({
    projectDir: root,
    targets: Platform.current().createTarget(onlyFolder ? ["dir"] : undefined),
    config: { ...configOf({ app, output, runtime, version }), ...change },
    publish: "never",
  });
}

async function main() {
  await setUp();
  let program = findRuntime();
  if (program === null) {
    console.log("Fetching the Electron runtime ...");
    const why = await fetchRuntime(FETCH_MS);
    program = findRuntime();
    if (program === null) {
      throw new SetUpError(
        `No installer was made, as there is no Electron runtime (${why || "it is not where it should be"}): ` +
          "run this where it can be fetched, or name the folder of an unpacked one in ELECTRON_OVERRIDE_DIST_PATH.",
      );
    }
  }
  const app = join(root, "dist/program");
  await stage(app);
  const made = await pack({
    app,
    output: join(root, "dist/installers"),
    runtime: runtimeFolder(program),
    onlyFolder: process.argv.includes("--dir"),
  });
  for (const path of made) if (existsSync(path)) console.log(path);
}

if (process.argv[1] !== undefined && pathToFileURL(resolve(process.argv[1])).href === import.meta.url) {
  try {
    await main();
  } catch (error) {
    console.error(error instanceof SetUpError ? error.message : error);
    process.exitCode = 1;
  }
}
