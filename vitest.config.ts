import { defineConfig } from "vitest/config";

/** A test waits for what it expects however busy the machine is; only one that hangs comes to this. */
const HANGS_MS = 900_000;
const patience = { testTimeout: HANGS_MS, hookTimeout: HANGS_MS };

export default defineConfig({
  test: {
    projects: [
      {
        // Pure code: no port, no browser, no disk beyond fixtures.
        test: {
          name: "unit",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/contract/**", "tests/e2e/**", "tests/host/**"],
          environment: "node",
          ...patience,
        },
      },
      {
        // Real files, processes and pseudo-terminals; one file at a time.
        test: {
          name: "host",
          include: ["tests/contract/**/*.test.ts", "tests/host/**/*.test.ts"],
          environment: "node",
          fileParallelism: false,
          ...patience,
        },
      },
      {
        // The built program in a browser; one file at a time.
        test: {
          name: "e2e",
          include: ["tests/e2e/**/*.test.ts"],
          environment: "node",
          fileParallelism: false,
          ...patience,
        },
      },
    ],
  },
});
