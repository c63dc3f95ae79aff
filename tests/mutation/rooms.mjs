/**
 * The rooms whose tests are themselves tested by changing the code, and the test files that must notice. Simulations of
 * thousands of stations are left out: they show how good a method is, take minutes, and are no place to find a slip.
 */
export const rooms = {
  sweep: {
    include: ["tests/sweep/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: ["tests/sweep/stationAccuracy.test.ts", "tests/sweep/polarityShare.test.ts"],
  },
  zero: {
    include: ["tests/zero/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: [],
  },
  fit: {
    include: ["tests/fit/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: ["coverage", "risk", "rockedStreams"].map((name) => `tests/fit/${name}.test.ts`),
  },
};
