/**
 * What is run for long only when asked for: each is a test of the suite, there with a small number, here with a large
 * one. The test reads LONG_NUMBER and LONG_SEED.
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
};
