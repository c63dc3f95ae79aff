import { describe, expect, it } from "vitest";
import type { FitInput } from "../../core/fit/finding.ts";
import { lifterFits } from "../../core/fit/lifterFits.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { exampleInput, materialNamed, referenceOf, stationOf } from "./exampleInput.ts";

const NOMINAL = 21_386_800;
const lifters = new Map<string, Nm>([
  ["1I", toNm(NOMINAL)],
  ["1E", toNm(NOMINAL + 3000)],
]);
const fits = (change: Partial<FitInput> = {}) => lifterFits(exampleInput({ lifters, ...change }));

describe("the bores that a lifter may go into", () => {
  it("are those measured at every place under a zero that holds, in walk order", () => {
    const { bores, lifters: measured } = fits();
    expect(bores.map(({ name }) => name)).toEqual(["1I", "1E"]);
    expect(measured).toBe(lifters);
    expect(fits({ bores: ["1E", "1I", "2I"] }).bores.map(({ name }) => name)).toEqual(["1E", "1I"]);
    expect(fits({ places: [], stations: [] }).bores).toEqual([]);
    expect(fits({ stations: exampleInput().stations.slice(0, 3) }).bores.map(({ name }) => name)).toEqual(["1I"]);
  });

  it("carry each station's size and when it was measured", () => {
    const [first] = fits().bores;
    expect(first?.stations.map(({ place, tMs, setTo }) => [place.height, tMs, setTo])).toEqual([
      ["upper", 20_000, "1I"],
      ["lower", 30_000, "1I"],
    ]);
    expect(first?.stations.map(({ boreNm }) => boreNm)).toEqual([NOMINAL + 40_600, NOMINAL + 40_900]);
    expect(first).toMatchObject({ minNm: NOMINAL + 40_600, maxNm: NOMINAL + 40_900 });
  });

  it("leave out one whose zero moved at a single station", () => {
    const references = [
      referenceOf("zero", -3000, 10_000),
      referenceOf("return", -3000, 25_000),
      referenceOf("return", 9000, 35_000, { held: false }),
      referenceOf("zero", -3000, 36_000),
      referenceOf("return", -3000, 60_000),
    ];
    expect(fits({ references }).bores.map(({ name }) => name)).toEqual(["1E"]);
  });
});

describe("a lifter in a bore", () => {
  it("of the size the gauge was zeroed on clears what the gauge showed, another its difference less", () => {
    expect(fits().of("1E", "1I")).toMatchObject({ clearanceMinNm: 44_000, clearanceMaxNm: 44_500, verdict: "fits" });
    expect(fits().of("1E", "1E")).toMatchObject({ clearanceMinNm: 41_000, clearanceMaxNm: 41_500 });
    expect(fits().ofDiameter("1E", NOMINAL - 1000)).toMatchObject({ clearanceMinNm: 45_000, clearanceMaxNm: 45_500 });
  });

  it("is preferred where both of its clearances lie in the preferred band (38.1 to 43.18 µm)", () => {
    expect(fits().of("1E", "1I").preferred).toBe(false);
    expect(fits().of("1E", "1E").preferred).toBe(true);
  });

  it("is judged by where the true clearance is expected, which moves with its size", () => {
    const [set, other] = [fits().of("1E", "1I").extremes, fits().of("1E", "1E").extremes];
    expect(set.smallest.value - set.smallest.clearanceNm).toBeCloseTo(250, 9);
    expect(other.smallest.value - other.smallest.clearanceNm).toBeCloseTo(250, 9);
  });

  it("that leaves too little room is too tight, one that leaves too much too loose, with the odds of each", () => {
    const tight = fits().ofDiameter("1E", NOMINAL + 20_000);
    expect(tight.verdict).toBe("too tight");
    expect(tight.confidence).toBe(tight.judgement.tooTight);
    const loose = fits().ofDiameter("1E", NOMINAL - 20_000);
    expect(loose.verdict).toBe("too loose");
    expect(loose.confidence).toBe(loose.judgement.tooLoose);
  });

  it("follows the job's rule and limits", () => {
    const near = NOMINAL + 44_000 - 33_020 - 100;
    expect(fits().ofDiameter("1E", near).verdict).toBe("undecided");
    expect(fits({ rule: "simple" }).ofDiameter("1E", near).verdict).toBe("fits");
  });

  it("was measured as warm as the micrometer: the difference that it showed is that at 20 °C", () => {
    const warm = {
      materials: { block: materialNamed("grey-iron"), lifter: materialNamed("aluminium-356") },
      temperatures: [{ tMs: 0, blockC: 20, lifterC: 30 }],
    };
    const found = fits(warm);
    expect(
      found.of("1E", "1I").extremes.smallest.clearanceNm - found.of("1E", "1E").extremes.smallest.clearanceNm,
    ).toBeCloseTo(3000, 6);
  });

  it("is found at each station by the lifter that was set there", () => {
    const stations = [stationOf("1I", "upper", 37_600, 20_000), stationOf("1I", "lower", 37_900, 50_000)];
    const references = [
      referenceOf("zero", -3000, 10_000),
      referenceOf("return", -3000, 30_000),
      // The larger lifter now: the same bore reads as much less as it is larger.
      referenceOf("zero", -3000, 40_000, { lifter: "1E" }),
      referenceOf("return", -3000, 60_000),
    ];
    const found = fits({ bores: ["1I"], stations, references }).of("1I", "1E");
    const [first] = fits({ bores: ["1I"], stations, references }).bores;
    expect(first?.stations.map(({ setTo }) => setTo)).toEqual(["1I", "1E"]);
    // Upper: 40.6 µm of 1I less 3 µm; lower: 40.9 µm of 1E itself.
    expect(found).toMatchObject({ clearanceMinNm: 37_600, clearanceMaxNm: 40_900 });
    expect(found.extremes.smallest.u).toBeGreaterThan(found.extremes.largest.u);
  });

  it("that was never measured, or a bore that was not, is refused by name", () => {
    expect(() => fits().of("1E", "S9")).toThrow("no lifter S9 is measured");
    expect(() => fits().of("9I", "1E")).toThrow("no bore 9I is measured at every station under a zero that holds");
    expect(() => fits().ofDiameter("9I", NOMINAL)).toThrow("no bore 9I");
  });
});
