import { describe, expect, it } from "vitest";
import { studyByVariance } from "../../core/fit/gaugeStudy.ts";
import { pooledScatter, scatterOf } from "../../core/fit/scatter.ts";
import { fitQuadratic } from "../../core/sweep/quadraticFit.ts";
import { significantDigits } from "./significantDigits.ts";

const alternating = (first: number, low: number, high: number) => [
  first,
  ...Array.from({ length: 1000 }, (_, at) => (at % 2 === 0 ? low : high)),
];

describe("mean and standard deviation: NIST Statistical Reference Datasets, univariate (read)", () => {
  it.each([
    ["NumAcc1", [10000001, 10000003, 10000002], 10000002, 1],
    ["NumAcc3", alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1],
    ["NumAcc4", alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1],
  ] as const)("%s to 8 digits of s", (_, values, mean, deviation) => {
    const found = scatterOf(values);
    expect(significantDigits(found.mean, mean)).toBeGreaterThan(14);
    expect(significantDigits(found.deviation, deviation)).toBeGreaterThan(8);
  });

  it("GUM 4.4.3, table 1: 20 temperatures, mean 100.145, s 1.489, s of the mean 0.333 (read at second hand)", () => {
    const found = scatterOf([
      96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95, 101.11,
      101.2, 101.57, 101.84, 102.36, 102.72,
    ]);
    expect(found.mean).toBeCloseTo(100.145, 3);
    expect(found.deviation).toBeCloseTo(1.489, 3);
    expect(found.deviation / Math.sqrt(20)).toBeCloseTo(0.333, 3);
  });
});

describe("SiRstv: NIST Statistical Reference Datasets, one-way analysis of variance (read)", () => {
  const instruments = [
    [196.3052, 196.124, 196.189, 196.2569, 196.3403],
    [196.3042, 196.3825, 196.1669, 196.3257, 196.0422],
    [196.1303, 196.2005, 196.2889, 196.0343, 196.1811],
    [196.2795, 196.1748, 196.1494, 196.1485, 195.9885],
    [196.2119, 196.1051, 196.185, 196.0052, 196.209],
  ];

  it("as a study of five parts by one person", () => {
    const readings = instruments.flatMap((values, part) =>
      values.map((value) => ({ part: `${part + 1}`, appraiser: "one", value })),
    );
    const { table, repeatability } = studyByVariance(readings, { band: null });
    const [between, within] = table;
    expect(table).toHaveLength(2);
    expect(between?.degreesOfFreedom).toBe(4);
    expect(within?.degreesOfFreedom).toBe(20);
    expect(significantDigits(between?.sumSquares, 5.11462616e-2)).toBeGreaterThan(8);
    expect(significantDigits(within?.sumSquares, 2.1663656e-1)).toBeGreaterThan(8);
    expect(significantDigits(between?.f, 1.18046237440255)).toBeGreaterThan(9);
    expect(significantDigits(repeatability.deviation, 1.04076068334656e-1)).toBeGreaterThan(9);
  });

  it("as the pooled scatter of five stations", () => {
    const pooled = pooledScatter(instruments);
    expect(pooled.degreesOfFreedom).toBe(20);
    expect(significantDigits(pooled.deviation, 1.04076068334656e-1)).toBeGreaterThan(9);
  });
});

describe("Pontius: NIST Statistical Reference Datasets, linear regression, quadratic (read)", () => {
  const x = Array.from({ length: 40 }, (_, at) => 150_000 * ((at % 20) + 1));
  const y = [
    0.11019, 0.21956, 0.32949, 0.43899, 0.54803, 0.65694, 0.76562, 0.87487, 0.98292, 1.09146, 1.20001, 1.30822, 1.41599,
    1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844, 0.11052, 0.22018, 0.32939, 0.43886, 0.54798, 0.65739,
    0.76596, 0.87474, 0.983, 1.0915, 1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177,
    2.16829,
  ];

  it.each([
    ["as printed", (values: readonly number[]) => [...values]],
    ["the other way round", (values: readonly number[]) => [...values].reverse()],
  ])("to 9 digits of B0, B1, B2 and of the residual standard deviation, %s", (_, order) => {
    const found = fitQuadratic(order(x), order(y));
    const [b0, b1, b2] = found?.coefficients ?? [];
    expect(significantDigits(b0, 0.673565789473684e-3)).toBeGreaterThan(9);
    expect(significantDigits(b1, 0.732059160401003e-6)).toBeGreaterThan(9);
    expect(significantDigits(b2, -0.316081871345029e-14)).toBeGreaterThan(9);
    expect(significantDigits(found?.residualDeviation, 0.205177424076185e-3)).toBeGreaterThan(9);
  });

  it("in the centred form too, which the turning points are taken from (derived: both are one parabola)", () => {
    const found = fitQuadratic(x, y);
    if (found === null) throw new Error("no parabola");
    const [b0, b1, b2] = found.coefficients;
    for (const at of [150_000, 1_575_000, 3_000_000]) {
      const u = (at - found.centre) / found.scale;
      const centred = found.atCentre + found.slope * u + found.curvature * u ** 2;
      expect(significantDigits(centred, b0 + b1 * at + b2 * at ** 2)).toBeGreaterThan(12);
    }
  });
});
