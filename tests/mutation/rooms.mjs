/**
 * The rooms whose tests are themselves tested by changing the code, and the test files that must notice. Simulations of
 * thousands of stations, and laws tried on hundreds of rocked streams, are left out: they take minutes.
 */
export const rooms = {
  sweep: {
    include: ["tests/sweep/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: ["stationAccuracy", "polarityShare", "streamCutterLaws", "turningPointLaws"].map(
      (name) => `tests/sweep/${name}.test.ts`,
    ),
  },
  zero: {
    include: ["tests/zero/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: [],
  },
  fit: {
    include: ["tests/fit/**/*.test.ts", "tests/reference/**/*.test.ts"],
    exclude: ["advice", "coverage", "laws", "lifterFits", "risk", "rockedStreams", "studyCoverage"].map(
      (name) => `tests/fit/${name}.test.ts`,
    ),
  },
};
