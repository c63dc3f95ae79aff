/**
 * What is run for long only when asked for: each is a test of the suite, there with a small number, here with a large
 * one; or a script of this folder. Both read LONG_NUMBER and LONG_SEED.
 */
export const rooms = {
  kills: {
    does: "ends a walk by SIGKILL at random moments; NUMBER kills",
    number: 2000,
    project: "host",
    file: "tests/host/kills.test.ts",
    // The program that is killed is the built one.
    builds: ["cli"],
  },
  soak: {
    does: "lets the host and the page's store work through NUMBER simulated hours",
    number: 8,
    project: "host",
    file: "tests/host/soak.test.ts",
  },
  "hands-free": {
    does: "walks sixteen bores of four stations in a browser, by data button and by stream; NUMBER times",
    number: 1,
    project: "e2e",
    file: "tests/e2e/handsFree.test.ts",
    builds: [],
  },
  "fuzz-lines": {
    does: "damages a gauge's lines in every format; NUMBER lines",
    number: 1_000_000,
    script: "tests/long/fuzzLines.ts",
  },
  "fuzz-files": {
    does: "mutates sessions, jobs, feeds, studies and parcels; NUMBER files",
    number: 100_000,
    script: "tests/long/fuzzFiles.ts",
  },
  "fuzz-actions": {
    does: "walks by random actions of an operator, laws held after each; NUMBER walks",
    number: 10_000,
    script: "tests/long/fuzzActions.ts",
  },
};
