import { readdirSync, readFileSync } from "node:fs";
import { builtinModules } from "node:module";
import { join, posix } from "node:path";
import { house, isPackageIn, roomOf } from "./house.ts";
import { readImports } from "./readImports.ts";

/** What is wrong with one import of a file, or null. Paths are from the top of the checkout, with forward slashes. */
function judge(path: string, specifier: string, typeOnly: boolean): string | null {
  // Scripts run before there is anything built, and lead to it.
  const name = path.endsWith(".mjs") ? null : roomOf(path);
  if (name === null) return null;
  const room = house[name];
  if (room === undefined) return null;
  if (!specifier.startsWith(".")) {
    const bare = builtinModules.includes(specifier.split("/")[0] ?? "") ? `node:${specifier}` : specifier;
    return isPackageIn(room.packages, bare) ? null : `${name} may not import the package ${specifier}`;
  }
  const target = posix.normalize(posix.join(posix.dirname(path), specifier));
  const other = roomOf(target);
  if (other === name || (other !== null && room.rooms.includes(other))) return null;
  if (other !== null && room.typesOnly?.includes(other))
    return typeOnly ? null : `${name} may import only types from ${other}`;
  return `${name} may not import ${other ?? target}`;
}

/** The clock and chance are inputs of the core; what reaches for them by itself cannot be replayed. */
const impure = /\bMath\s*\.\s*random\b|\bDate\s*\.\s*now\b|\bnew\s+Date\s*\(\s*\)|\bDate\s*\(\s*\)/;

/** Faults of one file, each with path and line. */
export function violationsIn(path: string, source: string): string[] {
  const faults = readImports(source).flatMap(({ specifier, typeOnly, line }) => {
    const fault = judge(path, specifier, typeOnly);
    return fault === null ? [] : [`${path}:${line}: ${fault}`];
  });
  if (path.startsWith("core/"))
    source.split("\n").forEach((text, index) => {
      if (impure.test(text) && !/^\s*(\*|\/\/)/.test(text))
        faults.push(`${path}:${index + 1}: core takes time and chance as inputs`);
    });
  return faults;
}

/** Files with code under `root`, as paths from there. */
function sourceFiles(root: string): string[] {
  return ["core", "electron", "renderer"].flatMap((top) =>
    readdirSync(join(root, top), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile() && /\.(tsx?|mjs|cjs|js)$/.test(entry.name))
      .map((entry) => posix.join(entry.parentPath.slice(root.length + 1).replaceAll("\\", "/"), entry.name)),
  );
}

/** Every fault of the house under `root`: imports against the arrows, and files in no room. */
export function findViolations(root: string): string[] {
  return sourceFiles(root).flatMap((path) => {
    const faults = violationsIn(path, readFileSync(join(root, path), "utf8"));
    if (path.startsWith("core/") && roomOf(path) === null) faults.push(`${path}: core has no such room`);
    return faults;
  });
}
