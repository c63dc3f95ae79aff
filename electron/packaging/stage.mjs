import { cp, mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** What the built program loads when it runs, besides what Electron brings; everything else is bundled in it. */
const LOADED = ["serialport"];
/** Needed to compile the binding, which comes compiled. */
const NOT_LOADED = ["node-addon-api"];
/** Of a package, what it does not run by: sources of another language, types, maps, texts and tests. */
const LEFT_OUT = /\.(map|ts|mts|cts|md|gyp|cc|cpp|h|mm)$|(^|\/)(test|tests|example|examples|\.[^/]*)(\/|$)/i;

/**
 * Puts what an installed program consists of into an empty folder: the window's main and preload, the page, and the few
 * packages that are loaded at run time, with the native binding of one system alone.
 * @param {string} folder
 * @param {NodeJS.Platform} platform
 */
export async function stage(folder, platform = process.platform) {
  await rm(folder, { recursive: true, force: true });
  await mkdir(join(folder, "window"), { recursive: true });
  for (const name of ["main.cjs", "preload.cjs"])
    await cp(join(root, "dist/window", name), join(folder, "window", name));
  await cp(join(root, "dist/renderer"), join(folder, "renderer"), {
    recursive: true,
    filter: (path) => !path.endsWith(".map"),
  });
  await cp(join(root, "LICENSE"), join(folder, "LICENSE"));
  const packages = await packagesOf(LOADED);
  for (const from of packages) {
    const within = relative(root, from);
    await cp(from, join(folder, within), {
      recursive: true,
      // What a package has within it is a package of its own on the list.
      filter: (path) => keep(relative(from, path).split(sep).join("/"), platform),
    });
  }
  const { name, version, description, license } = JSON.parse(await readFile(join(root, "package.json"), "utf8"));
  const dependencies = Object.fromEntries(
    await Promise.all(LOADED.map(async (one) => [one, await versionOf(join(root, "node_modules", one))])),
  );
  const manifest = {
    name,
    productName: "Borewright",
    version,
    description,
    license,
    author: "The makers of Borewright <borewright@localhost>",
    homepage: "https://borewright.invalid/",
    main: "window/main.cjs",
    dependencies,
  };
  await writeFile(join(folder, "package.json"), `${JSON.stringify(manifest, null, 2)}\n`);
}

function keep(/** @type {string} */ path, /** @type {string} */ platform) {
  if (path === "") return true;
  if (/(^|\/)node_modules(\/|$)/.test(path)) return false;
  const system = /^prebuilds\/([a-z0-9]+)-/.exec(path)?.[1];
  if (system !== undefined) return system === platform;
  return !LEFT_OUT.test(path);
}

/** Folders of the packages and of all they load, each once. @returns {Promise<string[]>} */
async function packagesOf(/** @type {readonly string[]} */ names) {
  /** @type {Map<string, string>} */
  const found = new Map();
  const follow = async (/** @type {string} */ name, /** @type {string} */ from) => {
    const at = folderOf(name, from);
    if (found.has(at)) return;
    found.set(at, name);
    const { dependencies = {} } = JSON.parse(await readFile(join(at, "package.json"), "utf8"));
    for (const next of Object.keys(dependencies).filter((one) => !NOT_LOADED.includes(one)))
      await follow(next, join(at, "package.json"));
  };
  for (const name of names) await follow(name, join(root, "package.json"));
  return [...found.keys()].sort();
}

function folderOf(/** @type {string} */ name, /** @type {string} */ from) {
  for (const place of createRequire(from).resolve.paths(name) ?? []) {
    try {
      return dirname(createRequire(from).resolve(join(place, name, "package.json")));
    } catch {}
  }
  throw new Error(`${name} is not installed: run npm ci, then try again`);
}

async function versionOf(/** @type {string} */ folder) {
  return JSON.parse(await readFile(join(folder, "package.json"), "utf8")).version;
}

/** Every file below a folder, as paths from it with "/". @returns {Promise<string[]>} */
export async function filesBelow(/** @type {string} */ folder) {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) =>
      relative(folder, join(entry.parentPath ?? entry.path, entry.name))
        .split(sep)
        .join("/"),
    )
    .sort();
}
