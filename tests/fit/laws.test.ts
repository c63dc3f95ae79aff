import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { FitInput, MeasuredStation } from "../../core/fit/finding.ts";
import { combine } from "../../core/fit/gum.ts";
import { judge } from "../../core/fit/verdict.ts";
import { toNm } from "../../core/length/nm.ts";
import { parseLength } from "../../core/length/parseLength.ts";
import type { JudgedReference } from "../../core/zero/reference.ts";
import { exampleInput, referenceOf, stationOf } from "./exampleInput.ts";

const SEED = 20_260;
const check = <T>(arbitrary: fc.Arbitrary<T>, law: (value: T) => void, numRuns = 200) =>
  fc.assert(fc.property(arbitrary, law), { seed: SEED, numRuns });

const clearance = fc.integer({ min: 20_000, max: 60_000 });

const walk = fc
  .record({
    zero: fc.integer({ min: -50_000, max: 50_000 }),
    returned: fc.integer({ min: -2000, max: 2000 }),
    clearances: fc.tuple(clearance, clearance, clearance, clearance),
    count: fc.integer({ min: 1, max: 9 }),
    sends: fc.constantFrom("stream" as const, "press" as const, "held" as const),
    warmC: fc.option(fc.double({ min: 10, max: 35, noNaN: true })),
  })
  .map(({ zero, returned, clearances, count, sends, warmC }) => {
    const [a, b, c, d] = clearances;
    return exampleInput({
      sends,
      stations: [
        stationOf("1I", "upper", zero + a, 20_000, count),
        stationOf("1I", "lower", zero + b, 30_000, count),
        stationOf("1E", "upper", zero + c, 40_000, count),
        stationOf("1E", "lower", zero + d, 50_000, count),
      ],
      references: [referenceOf("zero", zero, 10_000), referenceOf("return", zero + returned, 60_000)],
      temperatures: warmC === null ? [] : [{ tMs: 0, blockC: warmC, lifterC: warmC + 1 }],
    });
  });

function shift<T extends MeasuredStation | JudgedReference>(measured: T, by: number): T {
  const sweeps = measured.sweeps.map((sweep) => ({
    ...sweep,
    rawMinNm: toNm(sweep.rawMinNm + by),
    turningPointNm: toNm(sweep.turningPointNm + by),
  }));
  return { ...measured, valueNm: toNm(measured.valueNm + by), sweeps };
}

/** Findings without the raw stations they were made from, which a shift changes. */
const figures = (input: FitInput) =>
  findBores(input).map((bore) => ({
    ...bore,
    stations: bore.stations.map(({ clearanceNm, uncertaintyNm, budget }) => ({ clearanceNm, uncertaintyNm, budget })),
  }));

describe("laws", () => {
  it("shifting zero and readings together changes no finding", () => {
    check(fc.tuple(walk, fc.integer({ min: -1_000_000, max: 1_000_000 })), ([input, by]) => {
      const shifted = {
        ...input,
        stations: input.stations.map((station) => shift(station, by)),
        references: input.references.map((reference) => shift(reference, by)),
      };
      const [before, after] = [figures(input), figures(shifted)];
      // Advice and wear are sentences made from the same figures; a last digit of a double may differ.
      before.forEach((bore, at) => {
        const other = after[at];
        expect(other?.verdict).toBe(bore.verdict);
        bore.stations.forEach((station, index) => {
          expect(other?.stations[index]?.clearanceNm).toBe(station.clearanceNm);
          expect(other?.stations[index]?.uncertaintyNm).toBe(station.uncertaintyNm);
        });
      });
    });
  });

  it("inches and millimetres of the same length give the same finding", () => {
    check(fc.tuple(walk, fc.integer({ min: 10, max: 40 }), fc.integer({ min: 1, max: 20 })), ([input, low, width]) => {
      const inch = (tenths: number) => parseLength(`${(tenths / 10_000).toFixed(4)} in`);
      const metric = (tenths: number) => parseLength(`${(tenths * 0.00254).toFixed(5)} mm`);
      const limits = (of: typeof inch) => ({ ...input.limits, lowNm: of(low), highNm: of(low + width) });
      expect(figures({ ...input, limits: limits(metric) })).toEqual(figures({ ...input, limits: limits(inch) }));
    });
  });

  it("the shares of a budget add up to 1, and U is t times the combined uncertainty", () => {
    check(walk, (input) => {
      for (const station of findBores(input).flatMap(({ stations }) => stations)) {
        expect(station.budget.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 10);
        expect(station.uncertaintyNm).toBeGreaterThan(1.95 * station.standardUncertaintyNm);
      }
    });
  });

  it("the smallest and the largest clearance are clearances of stations, and probabilities lie in 0 … 1", () => {
    check(walk, (input) => {
      for (const bore of findBores(input)) {
        const values = bore.stations.map(({ clearanceNm }) => clearanceNm);
        expect(values).toContain(bore.clearanceMinNm);
        expect(values).toContain(bore.clearanceMaxNm);
        expect(bore.confidence).toBeGreaterThanOrEqual(0);
        expect(bore.confidence).toBeLessThanOrEqual(1);
        expect(bore.advice === null).toBe(bore.verdict !== "undecided");
      }
    });
  });

  it("widening limits never turns `fits` into anything else, nor anything else into too tight or too loose", () => {
    const measured = fc
      .record({
        clearanceNm: fc.integer({ min: 20_000, max: 60_000 }),
        u: fc.integer({ min: 0, max: 5000 }),
        degreesOfFreedom: fc.constantFrom(2, 5, 30, Number.POSITIVE_INFINITY),
      })
      .map((each) => ({ ...each, value: each.clearanceNm }));
    const wider = fc.tuple(fc.integer({ min: 0, max: 20_000 }), fc.integer({ min: 0, max: 20_000 }));
    const rule = fc.constantFrom("simple" as const, "guarded" as const);
    check(
      fc.tuple(measured, measured, wider, rule),
      ([one, other, [below, above], by]) => {
        const [smallest, largest] = one.value <= other.value ? [one, other] : [other, one];
        const of = (lowNm: number, highNm: number) =>
          judge([smallest, largest], { lowNm: toNm(lowNm), highNm: toNm(highNm) }, by).verdict;
        const narrow = of(33_020, 48_260);
        const wide = of(33_020 - below, 48_260 + above);
        if (narrow === "fits") expect(wide).toBe("fits");
        if (wide === "too loose") expect(narrow).toBe("too loose");
        // A bore that is both is called too loose until the upper limit lets it off.
        if (wide === "too tight") expect(["too tight", "too loose"]).toContain(narrow);
      },
      2000,
    );
  });

  it("U grows when any line of the budget grows (with 6 effective degrees of freedom or more)", () => {
    const line = fc.record({
      name: fc.constant("line"),
      u: fc.integer({ min: 1, max: 2000 }),
      degreesOfFreedom: fc.constantFrom(6, 20, 100, Number.POSITIVE_INFINITY),
      sensitivity: fc.constant(1),
    });
    check(
      fc.tuple(fc.array(line, { minLength: 1, maxLength: 12 }), fc.nat(), fc.integer({ min: 1, max: 3000 })),
      ([lines, which, by]) => {
        const at = which % lines.length;
        const grown = lines.map((each, index) => (index === at ? { ...each, u: each.u + by } : each));
        expect(combine(grown).expanded).toBeGreaterThan(combine(lines).expanded);
      },
      2000,
    );
  });

  it("U of a station grows with every setting of the budget", () => {
    const setting = fc.constantFrom("indicatorNm" as const, "transferNm" as const, "centringNm" as const);
    check(fc.tuple(walk, setting, fc.integer({ min: 500, max: 3000 })), ([input, name, by]) => {
      const larger = { ...BUDGET_DEFAULTS, [name]: toNm(BUDGET_DEFAULTS[name] + by) };
      const before = findBores(input)[0]?.stations[0];
      const after = findBores({ ...input, budget: larger })[0]?.stations[0];
      expect(after?.uncertaintyNm ?? 0).toBeGreaterThan(before?.uncertaintyNm ?? 0);
    });
  });
});
