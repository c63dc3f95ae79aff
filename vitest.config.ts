import { defineConfig } from "vitest/config";

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
        },
      },
      {
        // Real files, processes and pseudo-terminals; one file at a time.
        test: {
          name: "host",
          include: ["tests/contract/**/*.test.ts", "tests/host/**/*.test.ts"],
          environment: "node",
          fileParallelism: false,
          testTimeout: 60_000,
        },
      },
      {
        // The built program in a browser; one file at a time.
        test: {
          name: "e2e",
          include: ["tests/e2e/**/*.test.ts"],
          environment: "node",
          fileParallelism: false,
          testTimeout: 300_000,
        },
      },
    ],
  },
});
