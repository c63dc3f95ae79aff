import { describe, expect, it } from "vitest";
import { LINE } from "../../core/fit/budget.ts";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { BoreFinding, FitInput } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { toNm } from "../../core/length/nm.ts";
import { exampleInput, materialNamed, referenceOf, stationOf, sweepsAbout } from "./exampleInput.ts";

function boreOf(change: Partial<FitInput> = {}, name = "1I"): BoreFinding {
  const found = findBores(exampleInput(change)).find((bore) => bore.name === name);
  if (found === undefined) throw new Error(`no finding for ${name}`);
  return found;
}

const clearances = (bore: BoreFinding) => bore.stations.map(({ clearanceNm }) => clearanceNm);
const lineOf = (bore: BoreFinding, name: string) => bore.stations[0]?.budget.find((line) => line.name === name);

describe("clearance", () => {
  it("is the reading in the bore less the zero", () => {
    expect(clearances(boreOf())).toEqual([40_600, 40_900]);
  });

  it("comes in the order of the bores asked for, an unmeasured one without figures", () => {
    const found = findBores(exampleInput({ bores: ["2E", "1E", "1I"] }));
    expect(found.map(({ name }) => name)).toEqual(["2E", "1E", "1I"]);
    expect(found[0]).toMatchObject({ verdict: "not measured", clearanceMinNm: null, confidence: null, stations: [] });
  });

  it("stretches with the gain of a gain check", () => {
    expect(clearances(boreOf({ gain: 1.01 }))).toEqual([41_006, 41_309]);
  });

  it("takes the zero between two checks in proportion to time", () => {
    const references = [referenceOf("zero", -3000, 10_000), referenceOf("return", -1000, 60_000)];
    expect(clearances(boreOf({ references }))).toEqual([37_600 + 2600, 37_900 + 2200]);
  });

  it("adds the lifter set less the lifter meant, when both were measured", () => {
    const lifters = new Map([
      ["1I", toNm(21_386_800)],
      ["1E", toNm(21_384_300)],
    ]);
    const change = { lifters };
    expect(clearances(boreOf(change, "1E"))).toEqual([44_000 + 2500, 44_500 + 2500]);
    expect(clearances(boreOf(change, "1I"))).toEqual([40_600, 40_900]);
    expect(lineOf(boreOf(change, "1E"), LINE.lifterDifference)?.contributionNm).toBeCloseTo(
      Math.SQRT2 * Math.hypot(2000 / Math.sqrt(3), 1270 / Math.sqrt(12)),
      6,
    );
    expect(lineOf(boreOf(change, "1I"), LINE.lifterDifference)).toBeUndefined();
  });

  it.each([
    ["the lifter set was not measured", new Map([["1E", toNm(21_384_300)]]), "1I"],
    ["the lifter meant was not measured", new Map([["1I", toNm(21_384_300)]]), "1I"],
    ["nobody said which lifter was set", new Map([["1E", toNm(21_384_300)]]), null],
  ])("stays relative to the lifter set when %s", (_, lifters, lifter) => {
    const references = [referenceOf("zero", -3000, 10_000, { lifter })];
    expect(clearances(boreOf({ lifters, references }, "1E"))).toEqual([44_000, 44_500]);
  });

  it("names no lifter that the clearances are not against", () => {
    const measured = new Map([
      ["1I", toNm(21_384_300)],
      ["1E", toNm(21_394_300)],
    ]);
    const unnamed = [referenceOf("zero", -3000, 10_000, { lifter: null })];
    expect(boreOf({ lifters: measured }, "1E").lifter).toBe("1E");
    expect(boreOf({ lifters: measured, references: unnamed }, "1E").lifter).toBeNull();
    const setUnmeasured = new Map([["1E", toNm(21_394_300)]]);
    expect(boreOf({ lifters: setUnmeasured }, "1E").lifter).toBeNull();
  });

  it("still knows after a return check which lifter the micrometer was set to", () => {
    const lifters = new Map([
      ["1I", toNm(21_386_800)],
      ["1E", toNm(21_384_300)],
    ]);
    const references = [
      referenceOf("zero", -3000, 10_000),
      referenceOf("return", -3000, 35_000, { lifter: null }),
      referenceOf("return", -3000, 60_000, { lifter: null }),
    ];
    expect(clearances(boreOf({ lifters, references }, "1E"))).toEqual([46_500, 47_000]);
  });
});

describe("temperature", () => {
  const aluminium = { block: materialNamed("aluminium-356"), lifter: materialNamed("bearing-steel") };

  it("brings block and lifter to 20 °C, each by its own expansion (derived: 18.9708 µm)", () => {
    const change = {
      materials: aluminium,
      nominalLifterNm: toNm(21_400_000),
      temperatures: [{ tMs: 0, blockC: 25, lifterC: 25 }],
      stations: [stationOf("1I", "upper", 17_000, 20_000), stationOf("1I", "lower", 17_000, 30_000)],
    };
    expect(clearances(boreOf(change))).toEqual([18_971, 18_971]);
  });

  it("takes the lifter's temperature from when the micrometer was set, the block's from when the bore was measured", () => {
    const temperatures = [
      { tMs: 5_000, blockC: 20, lifterC: 20 },
      { tMs: 25_000, blockC: 21, lifterC: 28 },
    ];
    const bore = boreOf({ materials: aluminium, temperatures });
    const warmer = (21_386_800 + 40_900) * 21.5e-6;
    expect(clearances(bore)).toEqual([40_600, Math.round(40_900 - warmer)]);
  });

  it("corrects nothing when nothing was measured, and says in the budget what that costs", () => {
    const iron = boreOf();
    const cast = boreOf({ materials: { block: materialNamed("aluminium-356"), lifter: materialNamed("steel") } });
    expect(clearances(cast)).toEqual(clearances(iron));
    expect(lineOf(iron, LINE.temperature)?.contributionNm).toBeCloseTo((21_386_800 * 0.1e-6 * 3) / Math.sqrt(3), 6);
    expect(lineOf(cast, LINE.temperature)?.contributionNm).toBeCloseTo((21_386_800 * 10e-6 * 3) / Math.sqrt(3), 6);
  });

  it("takes an unmeasured lifter to be as warm as the block", () => {
    const materials = { block: materialNamed("steel"), lifter: materialNamed("steel") };
    const temperatures = [{ tMs: 0, blockC: 30, lifterC: null }];
    // Like expands with like: only the clearance itself shrinks, by 115 parts in a million.
    expect(clearances(boreOf({ materials, temperatures }))).toEqual([40_595, 40_895]);
  });
});

describe("budget", () => {
  it("has every line of the defaults, and the shares add up to 1", () => {
    const bore = boreOf({ references: [referenceOf("zero", -3000, 10_000), referenceOf("return", -2000, 60_000)] });
    const contribution = (name: string) => lineOf(bore, name)?.contributionNm;
    expect(contribution(LINE.indicator)).toBeCloseTo(1000 / Math.sqrt(3), 9);
    expect(contribution(LINE.transfer)).toBe(700);
    expect(contribution(LINE.drift)).toBeCloseTo(500 / Math.sqrt(3), 9);
    expect(contribution(LINE.centring)).toBeCloseTo(500 / Math.sqrt(3), 9);
    const lines = bore.stations[0]?.budget ?? [];
    expect(lines.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const combined = Math.hypot(...lines.map(({ contributionNm }) => contributionNm));
    expect(bore.stations[0]?.standardUncertaintyNm).toBeCloseTo(combined, 9);
  });

  it("pools repeatability over the stations: s_p of ±300 nm about each median, Σ(n−1) = 8 and 4 degrees of freedom", () => {
    const bore = boreOf();
    const station = 300 * Math.sqrt(0.448671);
    expect(lineOf(bore, LINE.station)).toMatchObject({ degreesOfFreedom: 8 });
    expect(lineOf(bore, LINE.station)?.contributionNm).toBeCloseTo(station, 3);
    expect(lineOf(bore, LINE.zero)).toMatchObject({ degreesOfFreedom: 4 });
    // The station at 20 s of 10 … 60 s rests 4/5 on the zero and 1/5 on the return.
    expect(lineOf(bore, LINE.zero)?.contributionNm).toBeCloseTo(station * Math.hypot(0.8, 0.2), 3);
  });

  it("counts q/√12 at bore and zero when readings repeat exactly, and for presses always", () => {
    const exact = (bore: string, height: string, value: number, tMs: number) => ({
      ...stationOf(bore, height, value, tMs),
      sweeps: sweepsAbout(value, tMs, 3, 0),
    });
    const stations = [exact("1I", "upper", 37_600, 20_000), exact("1I", "lower", 37_900, 30_000)];
    const still = boreOf({ stations });
    expect(lineOf(still, LINE.resolutionBore)?.contributionNm).toBeCloseTo(1270 / Math.sqrt(12), 6);
    expect(lineOf(still, LINE.resolutionZero)?.contributionNm).toBeLessThan(1270 / Math.sqrt(12));
    const pressed = boreOf({ sends: "press" });
    expect(lineOf(pressed, LINE.resolutionBore)?.contributionNm).toBeCloseTo(1270 / Math.sqrt(12), 6);
    expect(lineOf(pressed, LINE.resolutionZero)?.contributionNm).toBeCloseTo(1270 / Math.sqrt(12), 6);
  });

  it("leaves out sweeps that were struck or set aside", () => {
    const station = stationOf("1I", "upper", 37_600, 20_000);
    const far = { ...station.sweeps[0], rawMinNm: toNm(90_000), turningPointNm: toNm(90_000) };
    const stations = [
      {
        ...station,
        sweeps: [
          ...station.sweeps,
          { ...far, tMs: 20_000, samples: 6, method: "raw" as const, use: "struck" as const },
          { ...far, tMs: 20_000, samples: 6, method: "raw" as const, use: "set aside" as const },
        ],
      },
      stationOf("1I", "lower", 37_900, 30_000),
    ];
    expect(lineOf(boreOf({ stations }), LINE.station)?.contributionNm).toBeCloseTo(300 * Math.sqrt(0.448671), 3);
  });

  it("expects as much drift as between earlier checks until the next one", () => {
    const references = [
      referenceOf("zero", -3000, 1_000),
      referenceOf("return", -2000, 10_000, { returnNm: toNm(1000) }),
    ];
    expect(lineOf(boreOf({ references }), LINE.drift)?.contributionNm).toBeCloseTo(500 / Math.sqrt(3), 9);
  });
});

describe("what a finding carries", () => {
  it("of each station: its measurement, its figures at 95 %, and the budget they come from", () => {
    const input = exampleInput();
    const station = boreOf().stations[0];
    expect(station).toMatchObject({
      bore: "1I",
      place: { height: "upper", clock: "axial" },
      station: input.stations[0],
      coverage: 0.95,
    });
    const u = station?.standardUncertaintyNm ?? 0;
    expect(station?.degreesOfFreedom).toBeGreaterThan(100);
    expect(Number.isInteger(station?.uncertaintyNm)).toBe(true);
    expect((station?.uncertaintyNm ?? 0) / u).toBeCloseTo(1.96, 2);
  });

  it("of a station without a zero that holds: the measurement and nothing else", () => {
    expect(boreOf({ references: [] }).stations[0]).toEqual({
      bore: "1I",
      place: { height: "upper", clock: "axial" },
      station: exampleInput().stations[0],
      clearanceNm: null,
      uncertaintyNm: null,
      coverage: 0.95,
      degreesOfFreedom: 0,
      standardUncertaintyNm: 0,
      budget: [],
    });
  });

  it("of a bore: the odds on either side, and advice only while it is undecided", () => {
    const fitting = boreOf();
    expect(fitting).toMatchObject({ verdict: "fits", advice: null, wear: null, lifter: null });
    expect(fitting.tooTightProbability).toBeLessThan(0.001);
    expect(fitting.tooLooseProbability).toBeLessThan(0.001);
    expect(fitting.confidence).toBeCloseTo(
      1 - (fitting.tooTightProbability ?? 0) - (fitting.tooLooseProbability ?? 0),
      12,
    );
    const loose = boreOf({
      stations: [stationOf("1I", "upper", 37_600, 20_000), stationOf("1I", "lower", 52_000, 30_000)],
    });
    expect(loose.verdict).toBe("too loose");
    expect(loose.confidence).toBe(loose.tooLooseProbability);
    const undecided = boreOf({
      stations: [stationOf("1I", "upper", 37_600, 20_000), stationOf("1I", "lower", 45_000, 30_000)],
    });
    expect(undecided.verdict).toBe("undecided");
    expect(undecided.advice).toContain("inside the upper limit at lower axial");
  });

  it("of a bore with no place to measure: nothing either", () => {
    expect(boreOf({ places: [] })).toMatchObject({ verdict: "not measured", stations: [], clearanceMinNm: null });
  });

  it("of a bore that was not measured: no odds, no form, no advice", () => {
    expect(boreOf({ stations: [] })).toEqual({
      name: "1I",
      stations: [],
      lifter: null,
      clearanceMinNm: null,
      clearanceMaxNm: null,
      taperNm: null,
      taperUncertaintyNm: null,
      outOfRoundNm: null,
      outOfRoundUncertaintyNm: null,
      verdict: "not measured",
      preferred: false,
      confidence: null,
      tooTightProbability: null,
      tooLooseProbability: null,
      advice: null,
      wear: null,
    });
  });

  it("of a bore: the lifter that its clearances are taken against", () => {
    const lifters = new Map([
      ["1I", toNm(21_386_800)],
      ["1E", toNm(21_384_300)],
    ]);
    expect(boreOf({ lifters }).lifter).toBe("1I");
    expect(boreOf({ lifters, fitted: new Map([["1I", "1E"]]) })).toMatchObject({
      lifter: "1E",
      clearanceMinNm: 43_100,
    });
  });
});

describe("verdict of a bore", () => {
  it("waits for all of its stations, and shows those that there are", () => {
    const stations = [stationOf("1I", "upper", 37_600, 20_000)];
    const bore = boreOf({ stations });
    expect(bore).toMatchObject({ verdict: "not measured", preferred: false, confidence: null, clearanceMinNm: 40_600 });
    expect(clearances(bore)).toEqual([40_600]);
  });

  it.each([
    ["a zero that moved", [referenceOf("zero", -3000, 10_000), referenceOf("return", 3000, 60_000, { held: false })]],
    ["no zero", []],
  ])("is not given on %s", (_, references) => {
    const bore = boreOf({ references });
    expect(bore).toMatchObject({ verdict: "not measured", clearanceMinNm: null, taperNm: null });
    expect(bore.stations[0]).toMatchObject({ clearanceNm: null, uncertaintyNm: null, budget: [] });
  });

  it("counts a station measured again as it was measured last", () => {
    const stations = [...exampleInput().stations, stationOf("1I", "upper", 39_600, 55_000)];
    expect(boreOf({ stations }).clearanceMaxNm).toBe(42_600);
  });

  it("is preferred only if all of its stations lie in the preferred band, ends included", () => {
    expect(boreOf().preferred).toBe(true);
    const at = (value: number) =>
      boreOf({
        stations: [stationOf("1I", "upper", 37_600, 20_000), stationOf("1I", "lower", value - 3000, 30_000)],
      }).preferred;
    expect(at(43_180)).toBe(true);
    expect(at(43_181)).toBe(false);
  });

  it("prefers the middle third of a roller's limits, which name no preferred band", () => {
    const at = (value: number) =>
      boreOf({
        limits: SHIPPED_LIMITS.roller,
        stations: [stationOf("1I", "upper", value - 3000, 20_000), stationOf("1I", "lower", value - 3000, 30_000)],
      }).preferred;
    expect(at(63_500)).toBe(true);
    expect(at(59_267)).toBe(true);
    expect(at(59_266)).toBe(false);
    expect(at(67_734)).toBe(false);
  });

  it("says of a bore too loose for a new fit how it stands against the wear limit", () => {
    const worn = (value: number) =>
      boreOf({
        limits: { ...SHIPPED_LIMITS.flat, serviceHighNm: toNm(63_500) },
        stations: [stationOf("1I", "upper", value, 20_000), stationOf("1I", "lower", value, 30_000)],
      });
    expect(worn(52_000)).toMatchObject({ verdict: "too loose" });
    expect(worn(52_000).wear).toContain("still inside the wear limit of 0.00250 in");
    expect(worn(70_000).wear).toContain("beyond the wear limit");
    expect(worn(60_500).wear).toContain("too near the wear limit");
    expect(worn(37_600).wear).toBeNull();
  });
});

describe("form", () => {
  const places = [
    { height: "upper", clock: "axial" as const },
    { height: "upper", clock: "cross" as const },
    { height: "lower", clock: "axial" as const },
    { height: "lower", clock: "cross" as const },
  ];
  const values = [40_000, 41_000, 42_000, 45_000];
  const stations = places.map((place, at) => ({
    ...stationOf("1I", place.height, (values[at] ?? 0) - 3000, 20_000 + at * 1000),
    place,
  }));

  it("taper is the range over heights of the mean over clocks, out-of-round the largest range over clocks", () => {
    const bore = boreOf({ places, stations });
    expect(bore).toMatchObject({ taperNm: 3000, outOfRoundNm: 3000 });
  });

  it("is as uncertain as what does not cancel: repeatability, rounding, centring", () => {
    const bore = boreOf({ places, stations });
    const own = Math.hypot(300 * Math.sqrt(0.448671), 245.327, 500 / Math.sqrt(12));
    // Means of two at each end of the taper; single stations at each end of the out-of-round.
    expect((bore.taperUncertaintyNm ?? 0) / own).toBeGreaterThan(1.9);
    expect((bore.taperUncertaintyNm ?? 0) / own).toBeLessThan(2.1);
    expect((bore.outOfRoundUncertaintyNm ?? 0) / (bore.taperUncertaintyNm ?? 1)).toBeCloseTo(Math.SQRT2, 1);
    expect(bore.taperUncertaintyNm).toBeLessThan(bore.stations[0]?.uncertaintyNm ?? 0);
  });

  it("does not depend on what is common to a bore", () => {
    const worse = { ...BUDGET_DEFAULTS, transferNm: toNm(5000), indicatorNm: toNm(5000), temperatureHalfWidthC: 15 };
    expect(boreOf({ places, stations, budget: worse }).taperUncertaintyNm).toBe(
      boreOf({ places, stations }).taperUncertaintyNm,
    );
  });

  it("is not stated for one height or one clock direction", () => {
    expect(boreOf({ places: places.slice(0, 2), stations: stations.slice(0, 2) })).toMatchObject({
      taperNm: null,
      taperUncertaintyNm: null,
      outOfRoundNm: 1000,
    });
    expect(boreOf()).toMatchObject({ taperNm: 300, outOfRoundNm: null, outOfRoundUncertaintyNm: null });
  });

  it("does not compare a height measured both ways with one measured one way", () => {
    expect(boreOf({ places, stations: stations.slice(0, 3) }).taperNm).toBeNull();
  });
});
