// Runs every check there is and ends with one line "N passed, N failed, N skipped".
// Without --no-setup it first sees to dependencies, build, browser and pseudo-terminals by itself.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { provideBrowser, providePrintReader, providePseudoTerminals } from "./browser.mjs";

const top = join(dirname(fileURLToPath(import.meta.url)), "..");
const withSetup = !process.argv.includes("--no-setup");
const scratch = mkdtempSync(join(tmpdir(), "borewright-tests-"));
const counts = { passed: 0, failed: 0, skipped: 0 };

const bin = (name) => join(top, "node_modules", ".bin", process.platform === "win32" ? `${name}.cmd` : name);
const run = (command, args) =>
  spawnSync(command, args, { cwd: top, stdio: "inherit", shell: process.platform === "win32" }).status === 0;

function check(title, command, args) {
  console.log(`\n== ${title}`);
  const good = run(command, args);
  counts[good ? "passed" : "failed"] += 1;
  if (!good) console.log(`-- ${title}: failed`);
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
    const { numPassedTests, numFailedTests, numPendingTests, numTodoTests, numFailedTestSuites } = JSON.parse(
      readFileSync(report, "utf8"),
    );
    counts.passed += numPassedTests;
    counts.failed += numFailedTests;
    counts.skipped += numPendingTests + numTodoTests;
    // A file that could not even be loaded fails no test of its own.
    if (!good && numFailedTests === 0) counts.failed += Math.max(1, numFailedTestSuites);
  } catch {
    counts.failed += 1;
  }
}

try {
  if (withSetup) {
    const { setUp } = await import("../electron/setup.mjs");
    await setUp({ build: true });
    provideBrowser();
    providePseudoTerminals();
    providePrintReader();
  } else {
    console.log("Building …");
    check("build", process.execPath, [join(top, "electron", "build.mjs")]);
  }
  check("types", bin("tsc"), ["-b"]);
  check("lint and layers", bin("biome"), ["check", "."]);
  check("unused code", bin("knip"), []);
  for (const project of ["unit", "host", "e2e"]) tests(project);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  counts.failed += 1;
} finally {
  rmSync(scratch, { recursive: true, force: true });
}

const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : "";
console.log(`\n${counts.passed} passed, ${counts.failed} failed${skipped}`);
process.exitCode = counts.failed === 0 ? 0 : 1;
