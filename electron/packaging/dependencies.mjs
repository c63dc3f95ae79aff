// `npm run dependencies`: every package that runs with the program, its version, its licence and why it is there, and what
// is publicly known against any of them. Ends with 1 where a licence, a reason or an advisory stands in the way.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** Licences that may be given on with a program under MIT, by their SPDX names. */
export const LICENCES = [
  "MIT",
  "ISC",
  "Apache-2.0",
  "BSD-2-Clause",
  "BSD-3-Clause",
  "0BSD",
  // Boost: special functions under the statistics.
  "BSL-1.0",
  // The Python Software Foundation's: the reader of command lines that one library brings along and nothing here calls.
  "Python-2.0",
];

/** Why each package of package.json is there. */
export const WHY = /** @type {Readonly<Record<string, string>>} */ ({
  "@noble/hashes": "SHA-256 of the seals, where core may not ask Node for it",
  "@stdlib/stats-base-dists-chisquare-quantile": "limits of a standard deviation in the gauge study",
  "@stdlib/stats-base-dists-f-cdf": "whether people differ, in the gauge study",
  "@stdlib/stats-base-dists-f-quantile": "limits of a ratio of variances in the gauge study",
  "@stdlib/stats-base-dists-normal-cdf": "how probable it is that a bore fits",
  "@stdlib/stats-base-dists-normal-quantile": "guard band from a risk",
  "@stdlib/stats-base-dists-t-cdf": "how probable it is that a bore fits, from few sweeps",
  "@stdlib/stats-base-dists-t-quantile": "expanded uncertainty from few sweeps",
  canonicalize: "canonical JSON (RFC 8785) under the seals",
  "csv-stringify": "tables for a spreadsheet, with formulas kept from running",
  react: "draws the page",
  "react-dom": "draws the page",
  serialport: "gauges on serial ports",
  uplot: "the live trace",
  xmlbuilder2: "the QIF document",
  yazl: "packs the parcel",
  zod: "checks every file and every message",
  zustand: "the page's one store",
});

/**
 * @typedef {{ name: string, version: string, licence: string, direct: boolean }} Package
 */

/** Every package that runs, from the lock file. @returns {Package[]} */
export function runtimePackages(/** @type {{ packages: Record<string, any> }} */ lock) {
  const direct = new Set(Object.keys(lock.packages[""]?.dependencies ?? {}));
  return Object.entries(lock.packages)
    .filter(([path, { dev, devOptional }]) => path !== "" && dev !== true && devOptional !== true)
    .map(([path, { version, license }]) => {
      const name = path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);
      return {
        name,
        version,
        licence: typeof license === "string" ? license : "not stated",
        direct: direct.has(name) && path === `node_modules/${name}`,
      };
    })
    .sort((one, other) => one.name.localeCompare(other.name, "en") || one.version.localeCompare(other.version, "en"));
}

/** Whether a licence is on the list: one of those to choose from, all of those that hold together. */
function mayBeUsed(/** @type {string} */ licence) {
  return licence
    .replace(/^\((.*)\)$/, "$1")
    .split(" OR ")
    .some((choice) => choice.split(" AND ").every((one) => LICENCES.includes(one)));
}

/**
 * What stands in the way: a licence off the list, a package without a reason, a reason without a package, a version that
 * is not one alone.
 * @param {readonly Package[]} packages
 * @param {Readonly<Record<string, string>>} wanted the dependencies of package.json
 * @returns {string[]}
 */
export function troubles(packages, wanted, why = WHY) {
  return [
    ...packages
      .filter(({ licence }) => !mayBeUsed(licence))
      .map(
        ({ name, version, licence }) =>
          `${name} ${version}: licence ${licence}; expected one of ${LICENCES.join(", ")}`,
      ),
    ...Object.keys(wanted)
      .filter((name) => why[name] === undefined)
      .map((name) => `${name}: nothing says why it is there; add its line in electron/packaging/dependencies.mjs`),
    ...Object.keys(why)
      .filter((name) => wanted[name] === undefined)
      .map((name) => `${name}: a reason is given, but package.json has no such dependency; take its line away`),
    ...Object.entries(wanted)
      .filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))
      .map(([name, version]) => `${name}: version ${version}; expected one version alone`),
  ];
}

/**
 * What the package manager's check of known advisories came to: how many, or null where it could not be asked.
 * @param {string} output what `npm audit --json` printed
 * @returns {{ found: string[] } | null}
 */
export function advisories(output) {
  try {
    const { vulnerabilities } = JSON.parse(output);
    if (typeof vulnerabilities !== "object" || vulnerabilities === null) return null;
    return {
      found: Object.values(vulnerabilities).map(({ name, severity, via }) => {
        const title = via?.find?.((/** @type {any} */ one) => typeof one === "object")?.title;
        return `${name}: ${severity}${title === undefined ? "" : `, ${title}`}`;
      }),
    };
  } catch {
    return null;
  }
}

function main() {
  const read = (/** @type {string} */ name) => JSON.parse(readFileSync(join(root, name), "utf8"));
  const { dependencies } = read("package.json");
  const packages = runtimePackages(read("package-lock.json"));
  const direct = packages.filter((one) => one.direct);
  const wide = Math.max(...packages.map(({ name }) => name.length));
  for (const { name, version, licence } of direct)
    console.log(`${name.padEnd(wide)}  ${version.padEnd(8)}  ${licence.padEnd(12)}  ${WHY[name] ?? ""}`);
  const others = packages.filter((one) => !one.direct);
  console.log(`\nBrought along by them: ${others.length}`);
  for (const { name, version, licence } of others)
    console.log(`${name.padEnd(wide)}  ${version.padEnd(8)}  ${licence}`);

  const found = troubles(packages, dependencies);
  const audit = spawnSync("npm", ["audit", "--omit=dev", "--json"], {
    cwd: root,
    encoding: "utf8",
    timeout: 60_000,
    shell: process.platform === "win32",
  });
  const known = advisories(audit.stdout ?? "");
  console.log("");
  if (known === null) console.log("Known advisories: the package manager's service could not be asked from here.");
  else if (known.found.length === 0) console.log("Known advisories: none for what runs.");
  else found.push(...known.found.map((one) => `known advisory: ${one}`));
  for (const trouble of found) console.error(trouble);
  console.log(`${packages.length} packages run with the program, ${found.length} stand in the way.`);
  process.exitCode = found.length === 0 ? 0 : 1;
}

if (process.argv[1] !== undefined && pathToFileURL(resolve(process.argv[1])).href === import.meta.url) main();
