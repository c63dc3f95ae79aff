import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LINE } from "../../core/fit/budget.ts";
import { findBores } from "../../core/fit/findBores.ts";
import { lifterFits } from "../../core/fit/lifterFits.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import { toNm } from "../../core/length/nm.ts";
import { pairSession } from "../../core/report/pairingReport.ts";
import { resultOf, resultSchema } from "../../core/report/result.ts";
import { resultUnder, underWhatIf, type WhatIf } from "../../core/report/whatIf.ts";
import { sampleSession } from "./sampleSession.ts";

const TENTH = 2540;
const walk = ["1I", "1E", "3I", "3E"];
const { recording } = sampleSession({ job: { walk } });
const measured = recording.run.fitInput();
const result = (whatIf: WhatIf) => resultUnder(recording, "intact", { input: underWhatIf(recording, whatIf) });
const clearances = (whatIf: WhatIf) => result(whatIf).bores.map(({ clearanceMinNm }) => clearanceMinNm);
const inch = (nm: number) => `${formatLength(toNm(nm), "mm", 6)} mm`;

describe("a look at what if", () => {
  it("changes nothing where nothing is different", () => {
    expect(result({})).toEqual(resultOf(recording, "intact"));
    expect(result({ limits: "job", rule: "job", lifters: {} })).toEqual(resultOf(recording, "intact"));
  });

  it("leaves the record as it is", () => {
    const before = JSON.stringify(resultOf(recording, "intact"));
    result({ limits: "roller", everyLifter: "0.8425 in", blockC: 40, lifterC: 30 });
    expect(JSON.stringify(resultOf(recording, "intact"))).toBe(before);
  });

  it("judges by shipped or own limits and by the other rule", () => {
    expect(result({ limits: "roller" })).toMatchObject({ limits: SHIPPED_LIMITS.roller, rule: "guarded" });
    expect(result({ limits: "roller" }).bores[0]?.verdict).toBe("too tight");
    const own = result({ limits: { low: "0.0010 in", high: "50 um", preferredLow: "30 um", preferredHigh: "40 um" } });
    const expected = { lowNm: 25_400, highNm: 50_000, preferredLowNm: 30_000, preferredHighNm: 40_000 };
    expect(own.limits).toEqual({ ...expected, serviceHighNm: null, source: "tried out, not the job's" });
  });

  it("says which limits are nonsense, and what was expected", () => {
    const under = (limits: WhatIf["limits"]) => () => underWhatIf(recording, { limits });
    expect(under({ low: "19 um", high: "13 um" })).toThrow("limits: the wrong way round");
    expect(under({ low: "0.0013", high: "0.0019 in" })).toThrow("limits.low: the unit is missing");
    expect(under({ low: "13 um", high: "wide" })).toThrow('limits.high: found "wide"');
    expect(under({ low: "13 um", high: "19 um", preferredLow: "14 um" })).toThrow("limits.preferredHigh: missing");
    expect(under({ low: "13 um", high: "19 um", preferredLow: "12 um", preferredHigh: "15 um" })).toThrow(
      "the preferred band lies outside",
    );
  });

  it("keeps the block's wear limit beside limits tried, where it still says something", () => {
    const worn = sampleSession({ job: { walk, limits: { serviceHigh: "0.0025 in" } } }).recording;
    const under = (high: string) => underWhatIf(worn, { limits: { low: "0.0010 in", high } }).limits.serviceHighNm;
    expect(under("0.0020 in")).toBe(63_500);
    expect(under("0.0030 in")).toBeNull();
  });

  it("puts another lifter in a bore: the clearance is less by as much as it is larger, in the reference's bore too", () => {
    for (const [index, name] of walk.entries()) {
      const other = (measured.lifters.get(name) ?? 0) + 2 * TENTH;
      const now = clearances({});
      const then = clearances({ lifters: { [name]: inch(other) } });
      now.forEach((clearance, at) => {
        expect((clearance ?? 0) - (then[at] ?? 0)).toBe(at === index ? 2 * TENTH : 0);
      });
    }
  });

  it("counts the micrometer twice for a lifter put in the place of the one it was set to", () => {
    const set = measured.references[0]?.lifter ?? "";
    const index = walk.indexOf(set);
    const line = (whatIf: WhatIf) =>
      result(whatIf).bores[index]?.stations[0]?.budget.find(({ name }) => name === LINE.lifterDifference);
    expect(line({})).toBeUndefined();
    const { micrometerNm } = measured.budget;
    const once = Math.hypot(micrometerNm / Math.sqrt(3), measured.micrometerResolutionNm / Math.sqrt(12));
    expect(line({ lifters: { [set]: "0.8419 in" } })?.contributionNm).toBeCloseTo(Math.SQRT2 * once, 6);
  });

  it("fits a whole new set as the fits of its diameter say, at any temperatures and limits", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -20_000, max: 20_000 }),
        fc.double({ min: 10, max: 40, noNaN: true }),
        fc.double({ min: 10, max: 40, noNaN: true }),
        fc.constantFrom("job" as const, "flat" as const, "roller" as const),
        (by, blockC, lifterC, limits) => {
          const diameterNm = toNm(21_386_800 + by);
          const found = findBores(underWhatIf(recording, { everyLifter: inch(diameterNm), blockC, lifterC, limits }));
          const fits = lifterFits(underWhatIf(recording, { blockC, lifterC, limits }));
          for (const { name, clearanceMinNm, clearanceMaxNm, verdict, lifter } of found) {
            const { clearanceMinNm: min, clearanceMaxNm: max, verdict: expected } = fits.ofDiameter(name, diameterNm);
            expect({ clearanceMinNm, clearanceMaxNm, verdict, lifter }).toEqual({
              clearanceMinNm: min,
              clearanceMaxNm: max,
              verdict: expected,
              lifter: name,
            });
          }
        },
      ),
      { seed: 20261125, numRuns: 100 },
    );
  });

  it("lists the lifters as they would be, those that were never here with no readings", () => {
    const lifters = result({ everyLifter: "0.8421 in", lifters: { "1E": "0.8419 in" } }).lifters;
    expect(lifters.map(({ name, diameterNm, readings }) => [name, diameterNm, readings])).toEqual([
      ["1I", 21_389_340, 0],
      ["1E", 21_384_260, 0],
      ["3I", 21_389_340, 0],
      ["3E", 21_389_340, 0],
    ]);
    expect(() => resultSchema.parse(result({ everyLifter: "0.8421 in" }))).not.toThrow();
  });

  it("pairs the lifters that are tried, and never the one that the micrometer was set to in their place", () => {
    const input = underWhatIf(recording, { everyLifter: "0.8421 in", lifters: { "3E": "0.8420 in" } });
    const { assignments, leftOver } = pairSession(recording, { input });
    expect(assignments.map(({ lifter }) => lifter).sort()).toEqual([...walk].sort());
    expect(leftOver).toEqual([]);
  });

  it("takes given temperatures for the whole work and keeps what is recorded of the other", () => {
    const { temperatures } = underWhatIf(recording, { blockC: 31 });
    expect(new Set(temperatures.map(({ blockC }) => blockC))).toEqual(new Set([31, null]));
    const lifterC = measured.temperatures.map((record) => record.lifterC);
    expect(temperatures.slice(1).map((record) => record.lifterC)).toEqual(lifterC);
    // D·α·5 °C in grey iron, lifter at 20 °C: 21.4 mm · 11.4e-6 · 5 = 1.22 µm less (derived).
    const [at20, at25] = [20, 25].map((blockC) => clearances({ blockC, lifterC: 20 })[0] ?? 0) as [number, number];
    expect(at20 - at25).toBeCloseTo(21_427_000 * 11.4e-6 * 5, -1);
  });

  it.each([[-41], [151], [Number.NaN], [Number.POSITIVE_INFINITY]])("refuses %d °C", (blockC) => {
    expect(() => underWhatIf(recording, { blockC })).toThrow("blockC: found");
    expect(() => underWhatIf(recording, { lifterC: blockC })).toThrow("expected -40 to 150 °C");
  });

  it("refuses lifters that are not there and diameters that are none", () => {
    const under = (lifters: Record<string, string>) => () => underWhatIf(recording, { lifters });
    expect(under({ "9X": "0.842 in" })).toThrow('lifters.9X: the job has no lifter "9X"; expected one of 1I, 1E');
    expect(under({ "1I": "0.842" })).toThrow("lifters.1I: the unit is missing");
    expect(under({ "1I": "0.0842 in" })).toThrow("expected a lifter's diameter between");
    expect(under({ "1I": "-0.842 in" })).toThrow("expected a lifter's diameter between");
    expect(() => underWhatIf(recording, { everyLifter: "842 mm" })).toThrow('everyLifter: found "842 mm"');
  });

  it("tries no other lifters where it is not known how large the one was that the micrometer was set to", () => {
    const blind = sampleSession({ job: { walk }, lifters: false }).recording;
    expect(() => underWhatIf(blind, { everyLifter: "0.8421 in" })).toThrow("everyLifter: lifters of another size");
    const set = blind.run.fitInput().references[0]?.lifter;
    if (set === null || set === undefined) throw new Error("the sample names its reference lifter");
    const told = underWhatIf(blind, { lifters: { [set]: "0.8420 in", "1E": "0.8421 in" } });
    const [own, other] = findBores(told);
    expect(own?.clearanceMinNm).toBe(findBores(blind.run.fitInput())[0]?.clearanceMinNm);
    expect((own?.clearanceMinNm ?? 0) - (other?.clearanceMinNm ?? 0)).toBe(TENTH);
  });

  it("minds no zero that nothing was measured against", () => {
    const again = sampleSession({
      job: { walk },
      afterwards: (feed) => {
        // Another zero, of a lifter that nobody named, and not a bore after it.
        feed({ type: "step", step: "zero" });
        for (let press = 0; press < 3; press += 1) feed({ type: "line", gauge: "bore", line: "-0.00020" });
      },
    }).recording;
    expect(again.run.references.at(-1)?.lifter).toBeNull();
    expect(findBores(underWhatIf(again, { everyLifter: "0.8421 in" }))).toHaveLength(4);
  });
});
