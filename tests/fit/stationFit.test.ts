import { describe, expect, it } from "vitest";
import { LINE } from "../../core/fit/budget.ts";
import type { FitInput, MeasuredStation } from "../../core/fit/finding.ts";
import {
  type FittedLifter,
  fittedLifter,
  latestStations,
  lifterSetAt,
  sessionScatter,
  stationClearance,
} from "../../core/fit/stationFit.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { exampleInput, materialNamed, referenceOf, stationOf, sweepsAbout } from "./exampleInput.ts";

const REFERENCE: FittedLifter = { name: null, diameterNm: null };
const NOMINAL = 21_386_800;
/** Relative standard uncertainty of the median of three, √(1.346/3). */
const OF_THREE = Math.sqrt(1.346013 / 3);

function judged(change: Partial<FitInput> = {}, lifter = REFERENCE, station?: MeasuredStation) {
  const input = exampleInput(change);
  const measured = station ?? (input.stations[0] as MeasuredStation);
  const found = stationClearance(input, measured, sessionScatter(input), lifter);
  if (found === null) throw new Error("no zero in force");
  return found;
}

const lineOf = (found: ReturnType<typeof judged>, name: string) =>
  found.budget.lines.find((line) => line.name === name);

describe("the scatter of a session", () => {
  it("is pooled apart in the bores and in the micrometer", () => {
    const references = [
      { ...referenceOf("zero", -3000, 10_000), sweeps: sweepsAbout(-3000, 10_000, 3, 100) },
      { ...referenceOf("return", -3000, 60_000), sweeps: sweepsAbout(-3000, 60_000, 3, 100) },
    ];
    const found = sessionScatter(exampleInput({ references }));
    expect(found.bore.scatterNm).toBeCloseTo(300, 9);
    expect(found.zero.scatterNm).toBeCloseTo(100, 9);
    expect(found.bore.degreesOfFreedom).toBe(8);
    expect(found.zero.degreesOfFreedom).toBe(4);
    // A stream that hardly scatters shows less of what its rounding hides.
    expect(found.resolutionZero).toBeGreaterThan(found.resolutionBore);
  });
});

describe("the lifter meant for a bore", () => {
  const lifters = new Map<string, Nm>([
    ["1I", toNm(NOMINAL)],
    ["S1", toNm(NOMINAL + 500)],
  ]);

  it("is its own, or the one the pairing says, or the reference lifter where neither was measured", () => {
    expect(fittedLifter(exampleInput({ lifters }), "1I")).toEqual({ name: "1I", diameterNm: NOMINAL });
    expect(fittedLifter(exampleInput({ lifters }), "1E")).toEqual(REFERENCE);
    const fitted = new Map([
      ["1E", "S1"],
      ["1I", "9E"],
    ]);
    expect(fittedLifter(exampleInput({ lifters, fitted }), "1E")).toEqual({ name: "S1", diameterNm: NOMINAL + 500 });
    expect(fittedLifter(exampleInput({ lifters, fitted }), "1I")).toEqual(REFERENCE);
  });
});

describe("stations as they were measured last", () => {
  it("come in the order of the job's places, each from this bore and this place, the later of two", () => {
    const places = [
      { height: "upper", clock: "axial" as const },
      { height: "upper", clock: "cross" as const },
      { height: "lower", clock: "axial" as const },
    ];
    const cross = { ...stationOf("1I", "upper", 3, 30), place: { height: "upper", clock: "cross" as const } };
    const stations = [
      stationOf("1I", "lower", 1, 50),
      stationOf("1I", "upper", 2, 40),
      cross,
      stationOf("1I", "upper", 4, 20),
      stationOf("1E", "upper", 5, 90),
    ];
    const input = exampleInput({ places, stations });
    expect(latestStations(input, "1I").map(({ valueNm }) => valueNm)).toEqual([2, 3, 1]);
    expect(latestStations(input, "1E").map(({ valueNm }) => valueNm)).toEqual([5]);
    expect(latestStations(input, "8E")).toEqual([]);
  });

  it("of two at one moment are the one that was recorded later", () => {
    const stations = [stationOf("1I", "upper", 1, 50), stationOf("1I", "upper", 2, 50)];
    expect(latestStations(exampleInput({ stations }), "1I").map(({ valueNm }) => valueNm)).toEqual([2]);
  });
});

describe("what a station says of a lifter", () => {
  it("is nothing without a zero that holds", () => {
    const input = exampleInput({ references: [] });
    expect(stationClearance(input, input.stations[0] as MeasuredStation, sessionScatter(input), REFERENCE)).toBeNull();
  });

  it("carries what its uncertainty is made of", () => {
    const found = judged();
    expect(found.clearanceNm).toBe(40_600);
    expect(found.sweeps).toBe(3);
    expect(found.setNm).toBe(NOMINAL);
    expect(found.boreNm).toBe(NOMINAL + 40_600);
    expect(found.zeroChecked).toBe(true);
    expect(found.repeatability.u).toBeCloseTo(300 * OF_THREE, 3);
    expect(found.repeatability.degreesOfFreedom).toBe(8);
    expect(found.resolution).toBe(lineOf(found, LINE.resolutionBore)?.u);
    // The true clearance is expected half of the centring above the one shown.
    expect(found.value).toBe(40_850);
    expect(judged({ references: [referenceOf("zero", -3000, 10_000)] }).zeroChecked).toBe(false);
  });

  it("stretches its own scatter and rounding with the gain, whichever way the gauge counts", () => {
    const [plain, stretched, turned] = [judged(), judged({ gain: 1.02 }), judged({ gain: -1.02 })];
    for (const found of [stretched, turned]) {
      expect(found.repeatability.u).toBeCloseTo(1.02 * plain.repeatability.u, 9);
      expect(found.resolution).toBeCloseTo(1.02 * plain.resolution, 9);
    }
  });

  it("counts a station without kept sweeps as one of a single sweep", () => {
    const station = stationOf("1I", "upper", 37_600, 20_000);
    const struck = { ...station, sweeps: station.sweeps.map((sweep) => ({ ...sweep, use: "struck" as const })) };
    const input = exampleInput();
    const found = judged({ stations: [struck, ...input.stations.slice(1)] }, REFERENCE, struck);
    expect(found.sweeps).toBe(1);
    expect(found.repeatability.u).toBeCloseTo(found.scatter.scaleNm, 9);
  });

  it("gives the bore at 20 °C, whatever the block's temperature was", () => {
    const materials = { block: materialNamed("aluminium-356"), lifter: materialNamed("steel") };
    const found = judged({ materials, temperatures: [{ tMs: 0, blockC: 30, lifterC: 20 }] });
    expect(found.boreNm).toBeCloseTo((NOMINAL + 40_600) / (1 + 215e-6), 6);
    expect(found.clearanceNm).toBeCloseTo(found.boreNm - NOMINAL, 6);
  });
});

describe("the lifter that the micrometer was set to", () => {
  const lifters = new Map<string, Nm>([
    ["1I", toNm(NOMINAL + 1000)],
    ["1E", toNm(NOMINAL + 3000)],
  ]);

  it("is the reference, and costs no second measurement by the micrometer", () => {
    const found = judged({ lifters }, { name: "1I", diameterNm: toNm(NOMINAL + 1000) });
    expect(found).toMatchObject({ clearanceNm: 40_600, setNm: NOMINAL + 1000 });
    expect(lineOf(found, LINE.lifterDifference)).toBeUndefined();
  });

  it("differs from another by their diameters, which costs two", () => {
    const found = judged({ lifters }, { name: "1E", diameterNm: toNm(NOMINAL + 3000) });
    expect(found.clearanceNm).toBe(38_600);
    expect(lineOf(found, LINE.lifterDifference)).toBeDefined();
  });

  it("stands for one that was not measured", () => {
    expect(judged({ lifters }).clearanceNm).toBe(40_600);
    expect(lineOf(judged({ lifters }), LINE.lifterDifference)).toBeUndefined();
  });

  it("of nominal size stands for itself where it was not measured: another measured lifter is no better known against it", () => {
    const other = { name: "1E", diameterNm: toNm(NOMINAL + 3000) };
    const found = judged({ lifters: new Map([["1E", toNm(NOMINAL + 3000)]]) }, other);
    expect(found).toMatchObject({ clearanceNm: 40_600, setNm: NOMINAL });
    expect(lineOf(found, LINE.lifterDifference)).toBeUndefined();
  });

  it("is compared with a lifter that was never here by its size alone", () => {
    const found = judged({ lifters }, { name: null, diameterNm: toNm(NOMINAL + 6000) });
    expect(found.clearanceNm).toBe(35_600);
    expect(lineOf(found, LINE.lifterDifference)).toBeDefined();
    expect(judged({}, { name: null, diameterNm: toNm(NOMINAL + 6000) }).clearanceNm).toBe(34_600);
  });

  it("is the one of the last zero, for a return check sets nothing", () => {
    const references = [
      referenceOf("zero", -3000, 1000, { lifter: "1E" }),
      referenceOf("zero", -3000, 10_000, { lifter: "1I" }),
      referenceOf("return", -3000, 15_000, { lifter: null }),
      referenceOf("return", -3000, 60_000, { lifter: null }),
      referenceOf("zero", -3000, 70_000, { lifter: "1E" }),
    ];
    const input = exampleInput({ references, lifters });
    expect(lifterSetAt(input, 5000)).toBe("1E");
    expect(lifterSetAt(input, 20_000)).toBe("1I");
    expect(lifterSetAt(input, 10_000)).toBe("1I");
    expect(lifterSetAt(input, 80_000)).toBe("1E");
    expect(lifterSetAt(input, 500)).toBeNull();
    const alone = [referenceOf("return", -3000, 10_000, { lifter: "1E" })];
    expect(lifterSetAt(exampleInput({ references: alone }), 20_000)).toBe("1E");
    const moved = [referenceOf("zero", -3000, 10_000), referenceOf("return", 9000, 60_000, { held: false })];
    expect(lifterSetAt(exampleInput({ references: moved }), 20_000)).toBeNull();
  });
});

describe("the zero's own uncertainty", () => {
  const zeroLine = (tMs: number, references = exampleInput().references) =>
    lineOf(judged({ references }, REFERENCE, stationOf("1I", "upper", 37_600, tMs)), LINE.zero)?.u ?? Number.NaN;

  it("between two checks rests on both, each by its weight in time", () => {
    // Zero at 10 s, return at 60 s, each of three sweeps that scatter by 300 nm.
    expect(zeroLine(10_000)).toBeCloseTo(300 * OF_THREE, 3);
    expect(zeroLine(20_000)).toBeCloseTo(300 * OF_THREE * Math.hypot(0.8, 0.2), 3);
    expect(zeroLine(35_000)).toBeCloseTo(300 * OF_THREE * Math.SQRT1_2, 3);
  });

  it("adds the means of presses as they are, since both err to one side", () => {
    const presses = { sends: "press" as const };
    const of = (tMs: number) =>
      lineOf(judged(presses, REFERENCE, stationOf("1I", "upper", 37_600, tMs)), LINE.zero)?.u ?? Number.NaN;
    const alone = of(10_000);
    // Simulated: two errors of exponential law with mean 1, weighted alike, have a root mean square of √1.5.
    expect(of(35_000) / alone).toBeCloseTo(Math.sqrt(1.5) / Math.SQRT2, 9);
    let seed = 1;
    const exponential = () => {
      seed = (seed * 48_271) % 2_147_483_647;
      return -Math.log(seed / 2_147_483_647);
    };
    let squares = 0;
    for (let round = 0; round < 200_000; round += 1) squares += ((exponential() + exponential()) / 2) ** 2;
    expect(of(35_000) / alone).toBeCloseTo(Math.sqrt(squares / 200_000) / Math.SQRT2, 2);
  });

  it("is smaller for more sweeps, and a reference without kept sweeps counts as one of one", () => {
    const five = [
      { ...referenceOf("zero", -3000, 10_000), sweeps: sweepsAbout(-3000, 10_000, 5) },
      referenceOf("return", -3000, 60_000),
    ];
    expect(zeroLine(10_000, five)).toBeLessThan(
      zeroLine(10_000) * (sessionScatter(exampleInput({ references: five })).zero.scatterNm / 300),
    );
    const bare = [{ ...referenceOf("zero", -3000, 10_000), sweeps: [] }, referenceOf("return", -3000, 60_000)];
    expect(zeroLine(10_000, bare)).toBeCloseTo(300, 3);
  });

  it("until a check comes rests on the zero alone", () => {
    expect(zeroLine(20_000, [referenceOf("zero", -3000, 10_000)])).toBeCloseTo(300 * OF_THREE, 3);
  });
});

describe("drift of the zero", () => {
  const drift = (references: FitInput["references"], tMs = 20_000) =>
    (lineOf(judged({ references }, REFERENCE, stationOf("1I", "upper", 37_600, tMs)), LINE.drift)?.u ?? 0) *
    Math.sqrt(3);
  const returned = (returnNm: number, tMs: number, change = {}) =>
    referenceOf("return", -3000 + returnNm, tMs, { returnNm: toNm(returnNm), ...change });

  it("is half of the return between the two checks, whichever way it went", () => {
    expect(drift([referenceOf("zero", -3000, 10_000), returned(800, 60_000)])).toBeCloseTo(400, 9);
    expect(drift([referenceOf("zero", -3000, 10_000), returned(-800, 60_000)])).toBeCloseTo(400, 9);
  });

  it("until the next check is expected to be the largest that held so far, of either sign", () => {
    const zero = referenceOf("zero", -3000, 1000);
    expect(drift([zero])).toBe(0);
    expect(drift([zero, returned(200, 5000), returned(-900, 10_000), returned(300, 12_000)])).toBeCloseTo(450, 9);
    // One that did not hold tells of a knock, not of drift, and what came later is not known yet.
    expect(drift([zero, returned(6000, 5000, { held: false }), returned(300, 10_000)])).toBeCloseTo(150, 9);
    expect(drift([zero, returned(300, 10_000), referenceOf("zero", -3000, 30_000), returned(900, 60_000)])).toBeCloseTo(
      150,
      9,
    );
    // The return of a new zero is none.
    expect(drift([referenceOf("zero", -3000, 10_000, { returnNm: toNm(5000) })])).toBe(0);
  });
});
