// Changes core code in small ways, one at a time, and counts how many changes the tests notice: `npm run mutation -- sweep`.
// Each room has a sandbox and a memory of its own, so that two rooms can be done at once and a second run is short.
const room = process.env.MUTATION_ROOM ?? "sweep";
const memory = `node_modules/.cache/mutation/${room}`;

export default {
  testRunner: "vitest",
  plugins: ["@stryker-mutator/vitest-runner"],
  vitest: { configFile: "tests/mutation/vitest.config.mjs" },
  mutate: [`core/${room}/**/*.ts`],
  // The sandbox holds what pure tests need and nothing else.
  ignorePatterns: [
    "dist",
    "fixtures",
    "electron",
    "renderer",
    ".mutation",
    // Types are no matter here, and the tool knows no TypeScript 7.
    "tsconfig*.json",
    "**/tsconfig.json",
    "tests/*",
    ...["fit", "mutation", "reference", "sweep", "zero"].map((folder) => `!tests/${folder}`),
  ],
  coverageAnalysis: "perTest",
  concurrency: 1,
  // An endless loop is told from a slow machine: the slowest test here takes under a second.
  timeoutMS: 15_000,
  timeoutFactor: 1.5,
  incremental: true,
  incrementalFile: `${memory}/incremental.json`,
  tempDirName: `.mutation/${room}`,
  cleanTempDir: "always",
  allowConsoleColors: false,
  reporters: ["progress-append-only", "clear-text", "json"],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  jsonReporter: { fileName: `${memory}/report.json` },
};
