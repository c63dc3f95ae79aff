import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { FitInput } from "../../core/fit/finding.ts";
import { toNm } from "../../core/length/nm.ts";
import { exampleInput, materialNamed, referenceOf, stationOf } from "./exampleInput.ts";

const HIGH_NM = 48_260;

/** One bore at two heights, both `inside` nm below the upper limit. */
function near(inside: number, change: Partial<FitInput> = {}, sweeps = 3): FitInput {
  const value = HIGH_NM - inside - 3000;
  return exampleInput({
    bores: ["1I"],
    stations: [stationOf("1I", "upper", value, 20_000, sweeps), stationOf("1I", "lower", value, 30_000, sweeps)],
    ...change,
  });
}

const only = (input: FitInput) => {
  const [bore] = findBores(input);
  if (bore === undefined) throw new Error("no bore found");
  return bore;
};

/** The place, in nm inside the limit, where the verdict just turns to fits. */
function turningPlace(change: Partial<FitInput>): number {
  for (let inside = 0; inside < 15_000; inside += 20) {
    if (only(near(inside, change)).verdict === "fits") return inside;
  }
  throw new Error("no place fits");
}

describe("advice for an undecided bore", () => {
  it("names the distance, the uncertainty and the largest line", () => {
    const { advice, verdict } = only(near(1300));
    expect(verdict).toBe("undecided");
    expect(advice).toContain("1.3 µm (0.00005 in) inside the upper limit");
    expect(advice).toContain("the largest part is transfer through the micrometer");
  });

  it("asks for temperatures in an aluminium block, and they do decide it", () => {
    const materials = { block: materialNamed("aluminium-319"), lifter: materialNamed("steel") };
    const inside = turningPlace({ materials }) - 60;
    const bore = only(near(inside, { materials }));
    expect(bore.verdict).toBe("undecided");
    expect(bore.advice).toContain("Measure the temperature of block and lifter: that would decide it");
    const measured = only(near(inside, { materials, temperatures: [{ tMs: 0, blockC: 20, lifterC: 20 }] }));
    expect(measured.verdict).toBe("fits");
  });

  it("asks for as many more sweeps as decide it, and no fewer do", () => {
    const budget = { ...BUDGET_DEFAULTS, indicatorNm: toNm(100), transferNm: toNm(100), centringNm: toNm(0) };
    const scattered = (inside: number, sweeps: number): FitInput => {
      const { stations, ...rest } = near(inside, { budget }, sweeps);
      const spread = (station: FitInput["stations"][number]) => ({
        ...station,
        sweeps: station.sweeps.map((sweep) => {
          const value = toNm(station.valueNm + 1500 * Math.sign(sweep.turningPointNm - station.valueNm));
          return { ...sweep, turningPointNm: value, rawMinNm: value };
        }),
      });
      return { ...rest, stations: stations.map(spread) };
    };
    let inside = 0;
    while (only(scattered(inside, 3)).verdict !== "fits") inside += 20;
    inside -= 200;
    const bore = only(scattered(inside, 3));
    expect(bore.verdict).toBe("undecided");
    const [, more, all] = /Take (one|\d+) more sweeps? at each station \((\d+) in all\)/.exec(bore.advice ?? "") ?? [];
    expect(Number(all) - (more === "one" ? 1 : Number(more))).toBe(3);
    expect(only(scattered(inside, Number(all))).verdict).toBe("fits");
  });

  it("asks to zero again when drift is what costs most", () => {
    const references = [
      referenceOf("zero", -3000, 10_000),
      referenceOf("return", -3000, 15_000, { returnNm: toNm(0) }),
    ];
    const drifted = [...references, referenceOf("return", -1000, 60_000, { returnNm: toNm(2000) })];
    const inside = turningPlace({ references: drifted }) - 40;
    const { advice } = only(near(inside, { references: drifted }));
    expect(advice).toMatch(/Zero again and measure this bore straight after it, with a return of at most 0\.5 µm/);
  });

  it("asks to set the micrometer to the bore's own lifter", () => {
    const lifters = new Map([
      ["1I", toNm(21_386_800)],
      ["1E", toNm(21_386_800)],
    ]);
    const references = [referenceOf("zero", -3000, 10_000, { lifter: "1E" }), referenceOf("return", -3000, 60_000)];
    const inside = turningPlace({}) + 200;
    const bore = only(near(inside, { lifters, references }));
    expect(bore.verdict).toBe("undecided");
    expect(bore.advice).toContain("Set the micrometer to this bore's own lifter and zero again: that would decide it");
    const own = [referenceOf("zero", -3000, 10_000), referenceOf("return", -3000, 60_000)];
    expect(only(near(inside, { lifters, references: own })).verdict).toBe("fits");
  });

  it("asks for a finer gauge with its figures, and it does decide", () => {
    const budget = { ...BUDGET_DEFAULTS, indicatorNm: toNm(3000), transferNm: toNm(300) };
    const inside = turningPlace({ budget }) - 500;
    const bore = only(near(inside, { budget }));
    const [, resolution, indicator] =
      /finer gauge: ([\d.]+) µm resolution and at most ([\d.]+) µm indicator error/.exec(bore.advice ?? "") ?? [];
    const finer = {
      budget: { ...budget, indicatorNm: toNm(Number(indicator) * 1000) },
      resolutionNm: toNm(Number(resolution) * 1000),
    };
    expect(only(near(inside, finer)).verdict).toBe("fits");
  });

  it("says that nothing decides a bore on its limit", () => {
    expect(only(near(0)).advice).toContain("It is on the upper limit");
    // Centring is expected to read 0.25 µm short, so this is where the true clearance is expected on the limit.
    expect(only(near(250)).advice).toContain("a ten times smaller uncertainty would not decide it");
  });

  it("says that a return check is still to come", () => {
    const references = [referenceOf("zero", -3000, 10_000)];
    expect(only(near(1300, { references })).advice).toContain("A return check is still to come.");
    expect(only(near(1300)).advice).not.toContain("return check is still to come");
  });
});
