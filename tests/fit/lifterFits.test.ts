import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findBores } from "../../core/fit/findBores.ts";
import type { FitInput } from "../../core/fit/finding.ts";
import { lifterFits } from "../../core/fit/lifterFits.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { exampleInput, materialNamed, referenceOf } from "./exampleInput.ts";

const NOMINAL = 21_386_800;

const sessions = fc
  .record({
    own: fc.integer({ min: -5000, max: 5000 }),
    other: fc.integer({ min: -5000, max: 5000 }),
    spare: fc.integer({ min: -5000, max: 5000 }),
    blockC: fc.double({ min: 10, max: 35, noNaN: true }),
    lifterC: fc.double({ min: 10, max: 35, noNaN: true }),
    rule: fc.constantFrom("simple" as const, "guarded" as const),
  })
  .map(({ own, other, spare, blockC, lifterC, rule }) =>
    exampleInput({
      rule,
      lifters: new Map<string, Nm>([
        ["1I", toNm(NOMINAL + own)],
        ["1E", toNm(NOMINAL + other)],
        ["S1", toNm(NOMINAL + spare)],
      ]),
      temperatures: [{ tMs: 0, blockC, lifterC }],
    }),
  );

const withLifter = (input: FitInput, bore: string, lifter: string) =>
  findBores({ ...input, fitted: new Map([[bore, lifter]]) }).find(({ name }) => name === bore);

describe("any lifter in any bore", () => {
  test("fits as the findings say once it is meant for that bore", () => {
    fc.assert(
      fc.property(sessions, fc.constantFrom("1I", "1E"), fc.constantFrom("1I", "1E", "S1"), (input, bore, lifter) => {
        const found = withLifter(input, bore, lifter);
        const fit = lifterFits(input).of(bore, lifter);
        expect({ ...fit, judgement: null, extremes: null, stations: [], confidence: 0 }).toEqual({
          clearanceMinNm: found?.clearanceMinNm,
          clearanceMaxNm: found?.clearanceMaxNm,
          verdict: found?.verdict,
          preferred: found?.preferred,
          judgement: null,
          extremes: null,
          stations: [],
          confidence: 0,
        });
        expect(fit.confidence).toBeCloseTo(found?.confidence ?? Number.NaN, 9);
        expect(found?.lifter).toBe(lifter);
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });

  test("a bore and a lifter as warm as each other have the sizes at 20 °C that the micrometer shows", () => {
    const lifters = new Map([["1I", toNm(21_386_800)]]);
    const materials = { block: materialNamed("steel"), lifter: materialNamed("steel") };
    const at = (celsius: number) =>
      lifterFits(
        exampleInput({ lifters, materials, temperatures: [{ tMs: 0, blockC: celsius, lifterC: celsius }] }),
      ).bores.map(({ minNm, maxNm }) => [minNm, maxNm]);
    expect(at(20)[0]).toEqual([21_386_800 + 40_600, 21_386_800 + 40_900]);
    for (const celsius of [10, 30]) {
      for (const [index, [minNm, maxNm]] of at(celsius).entries()) {
        // The clearance itself is that much of steel longer or shorter: 41 µm by 1.2e-4.
        expect(Math.abs((minNm ?? 0) - (at(20)[index]?.[0] ?? 0))).toBeLessThanOrEqual(6);
        expect(Math.abs((maxNm ?? 0) - (at(20)[index]?.[1] ?? 0))).toBeLessThanOrEqual(6);
      }
    }
  });

  test("the micrometer counts twice for every lifter but the one the gauge was zeroed on", () => {
    const same = toNm(NOMINAL);
    const input = exampleInput({
      lifters: new Map([
        ["1I", same],
        ["1E", same],
      ]),
    });
    const fits = lifterFits(input);
    const set = fits.of("1E", "1I").extremes.smallest;
    const other = fits.of("1E", "1E").extremes.smallest;
    expect(other.clearanceNm).toBe(set.clearanceNm);
    expect(other.u).toBeGreaterThan(set.u);
    expect(fits.ofDiameter("1E", same).extremes.smallest.u).toBe(other.u);
  });

  test("a bore is as large as lifter and clearance together, at 20 °C", () => {
    const input = exampleInput({ lifters: new Map([["1I", toNm(NOMINAL)]]) });
    const [first] = lifterFits(input).bores;
    expect(first?.name).toBe("1I");
    expect(first?.minNm).toBe(NOMINAL + 40_600);
    expect(first?.maxNm).toBe(NOMINAL + 40_900);
    expect(first?.stations.map(({ setTo }) => setTo)).toEqual(["1I", "1I"]);
  });

  test("a larger lifter leaves as much less clearance as it is larger", () => {
    const fits = lifterFits(exampleInput({ lifters: new Map([["1I", toNm(NOMINAL)]]) }));
    expect(fits.ofDiameter("1I", NOMINAL + 2_540).clearanceMinNm).toBe(40_600 - 2_540);
  });

  test("bores without all their stations, or whose zero moved, are left out", () => {
    const input = exampleInput({ lifters: new Map([["1I", toNm(NOMINAL)]]) });
    expect(lifterFits({ ...input, stations: input.stations.slice(0, 3) }).bores.map(({ name }) => name)).toEqual([
      "1I",
    ]);
    const moved = [referenceOf("zero", -3000, 10_000), referenceOf("return", 9000, 60_000, { held: false })];
    expect(lifterFits({ ...input, references: moved }).bores).toEqual([]);
    expect(() => lifterFits(input).of("7E", "1I")).toThrow("7E");
    expect(() => lifterFits(input).of("1I", "S9")).toThrow("S9");
  });
});
