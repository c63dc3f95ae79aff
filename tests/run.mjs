// Runs every check there is and ends with one line "N passed, N failed, N skipped".
// Without --no-setup it first sees to dependencies, build, browser and pseudo-terminals by itself.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { provideBrowser, provideFarLetter, providePrintReader, providePseudoTerminals } from "./browser.mjs";

const top = join(dirname(fileURLToPath(import.meta.url)), "..");
const withSetup = !process.argv.includes("--no-setup");
const scratch = mkdtempSync(join(tmpdir(), "borewright-tests-"));
const counts = { passed: 0, failed: 0, skipped: 0 };
/** What failed, each with where it stands and its first line of why; told again at the end, where it is looked for. */
const failures = [];

const bin = (name) => join(top, "node_modules", ".bin", process.platform === "win32" ? `${name}.cmd` : name);
const run = (command, args) =>
  spawnSync(command, args, { cwd: top, stdio: "inherit", shell: process.platform === "win32" }).status === 0;

function check(title, command, args) {
  console.log(`\n== ${title}`);
  const good = run(command, args);
  counts[good ? "passed" : "failed"] += 1;
  if (!good) failures.push(title);
}

function failuresOf({ name, status, message, assertionResults }) {
  const file = relative(top, name);
  const first = (text) => text?.split("\n", 1)[0] ?? "";
  const failed = assertionResults.filter((one) => one.status === "failed");
  if (failed.length > 0) return failed.map((one) => `${file}: ${one.fullName}: ${first(one.failureMessages[0])}`);
  return status === "failed" ? [`${file}: ${first(message)}`] : [];
}

function tests(project) {
  console.log(`\n== tests: ${project}`);
  const report = join(scratch, `${project}.json`);
  const good = run(bin("vitest"), [
    "run",
    "--project",
    project,
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
  ]);
  try {
    const { numPassedTests, numFailedTests, numPendingTests, numTodoTests, numFailedTestSuites, testResults } =
      JSON.parse(readFileSync(report, "utf8"));
    counts.passed += numPassedTests;
    counts.failed += numFailedTests;
    counts.skipped += numPendingTests + numTodoTests;
    // A file that could not even be loaded fails no test of its own.
    if (!good && numFailedTests === 0) counts.failed += Math.max(1, numFailedTestSuites);
    for (const file of testResults) failures.push(...failuresOf(file));
  } catch {
    counts.failed += 1;
    failures.push(`${project}: no report was written`);
  }
}

try {
  if (withSetup) {
    const { setUp } = await import("../electron/setup.mjs");
    await setUp({ build: true });
    provideBrowser();
    providePseudoTerminals();
    providePrintReader();
    provideFarLetter();
  } else {
    console.log("Building …");
    check("build", process.execPath, [join(top, "electron", "build.mjs")]);
  }
  check("types", bin("tsc"), ["-b"]);
  check("lint and layers", bin("biome"), ["check", "."]);
  check("unused code", bin("knip"), []);
  for (const project of ["unit", "host", "e2e"]) tests(project);
} catch (error) {
  failures.push(error instanceof Error ? error.message : String(error));
  counts.failed += 1;
} finally {
  rmSync(scratch, { recursive: true, force: true });
}

if (failures.length > 0) console.log(`\n== failed\n${failures.join("\n")}`);
const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
console.log(`\n${counts.passed} passed, ${counts.failed} failed${skipped}`);
process.exitCode = counts.failed === 0 ? 0 : 1;
