import { describe, expect, it } from "vitest";
import { adviceFor } from "../../core/fit/advice.ts";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { BudgetSettings, FitInput } from "../../core/fit/finding.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { exampleInput, referenceOf, stationOf, sweepsAbout } from "./exampleInput.ts";

const [LOW, HIGH] = [33_020, 48_260];
/** Expands a lot, but is known exactly, and alike in block and lifter. */
const STONE = { id: "stone", alpha: 10, alphaHalfWidth: 0, source: "made up" };

const QUIET: BudgetSettings = {
  ...BUDGET_DEFAULTS,
  indicatorNm: toNm(0),
  transferNm: toNm(0),
  micrometerNm: toNm(0),
  centringNm: toNm(0),
};

interface Bench {
  /** Clearances of the upper and the lower station, nm. */
  readonly upper: number;
  readonly lower: number;
  /** Scatter of three sweeps at each station, nm; none in the micrometer. */
  readonly scatterNm?: number;
  /** Return after the zero, nm; null leaves the check out. */
  readonly returnNm?: number | null;
  readonly budget?: Partial<BudgetSettings>;
}

/** A bore that was measured the moment the zero closed, on a bench where nothing is uncertain but what is asked for. */
function bench({ upper, lower, scatterNm = 0, returnNm = 0, budget = {} }: Bench, change: Partial<FitInput> = {}) {
  const at = (height: string, clearanceNm: number) => ({
    ...stationOf("1I", height, clearanceNm, 10_000),
    sweeps: sweepsAbout(clearanceNm, 10_000, 3, scatterNm),
  });
  const reference = (kind: "zero" | "return", valueNm: number, tMs: number) => ({
    ...referenceOf(kind, valueNm, tMs),
    sweeps: sweepsAbout(valueNm, tMs, 3, 0),
  });
  return exampleInput({
    bores: ["1I"],
    stations: [at("upper", upper), at("lower", lower)],
    references: [reference("zero", 0, 10_000), ...(returnNm === null ? [] : [reference("return", returnNm, 60_000)])],
    resolutionNm: toNm(0),
    micrometerResolutionNm: toNm(0),
    materials: { block: STONE, lifter: STONE },
    budget: { ...QUIET, ...budget },
    ...change,
  });
}

function adviceOf(of: Bench, change: Partial<FitInput> = {}): string {
  const [bore] = findBores(bench(of, change));
  expect(bore?.verdict).toBe("undecided");
  return bore?.advice ?? "";
}

/** Both stations so far inside the upper limit. */
const inside = (nm: number) => ({ upper: HIGH - nm, lower: HIGH - nm });
const TRANSFER = { transferNm: toNm(1000) };
/** √2·m/√3 is 1000 nm for another lifter than the one set. */
const TWICE_THE_MICROMETER = { micrometerNm: toNm(1225) };
const OTHER_LIFTER = {
  lifters: new Map<string, Nm>([
    ["1I", toNm(21_386_800)],
    ["1E", toNm(21_386_800)],
  ]),
};
const setToOther = (returnNm = 0) => ({
  ...OTHER_LIFTER,
  references: bench({ ...inside(0), returnNm }).references.map((each) => ({ ...each, lifter: "1E" })),
});

describe("where an undecided bore stands", () => {
  it("is told by the limit that is nearer, the station nearest to it, and the largest part of the uncertainty", () => {
    expect(adviceOf({ upper: 40_000, lower: HIGH - 1300, budget: TRANSFER })).toContain(
      "It is 1.3 µm (0.00005 in) inside the upper limit at lower axial, uncertain by 2.0 µm (0.00008 in); " +
        "the largest part is transfer through the micrometer: faces, feel (100 %).",
    );
    expect(adviceOf({ upper: LOW + 1000, lower: 40_000, budget: TRANSFER })).toContain(
      "It is 1.0 µm (0.00004 in) inside the lower limit at upper axial",
    );
    const both = adviceOf({ ...inside(1300), budget: { ...TRANSFER, indicatorNm: toNm(1000) } });
    expect(both).toContain("transfer through the micrometer: faces, feel (75 %)");
  });

  it("in the very middle of the band is told by the lower one", () => {
    const middle = (LOW + HIGH) / 2;
    expect(adviceOf({ upper: middle, lower: middle, budget: { transferNm: toNm(5000) } })).toContain(
      "It is 7.6 µm (0.00030 in) inside the lower limit",
    );
  });

  it("may be beyond the limit, and not far enough to be called so", () => {
    expect(adviceOf({ upper: 40_000, lower: HIGH + 1300, budget: TRANSFER })).toContain(
      "1.3 µm (0.00005 in) beyond the upper limit at lower axial",
    );
    expect(adviceOf({ upper: LOW - 1300, lower: 40_000, budget: TRANSFER })).toContain("beyond the lower limit");
  });

  it("is on the limit within 50 nm, which no figure here would show", () => {
    expect(adviceOf({ ...inside(49), budget: TRANSFER })).toContain("It is on the upper limit");
    expect(adviceOf({ ...inside(-49), budget: TRANSFER })).toContain("It is on the upper limit");
    expect(adviceOf({ ...inside(50), budget: TRANSFER })).toContain("inside the upper limit");
  });
});

describe("a bore that nothing decides", () => {
  it("lies nearer to the limit than 1.645 times a tenth of the uncertainty", () => {
    const hopeless =
      "That is so near the limit that a ten times smaller uncertainty would not decide it: treat it as not fitting, or pair another lifter.";
    expect(adviceOf({ ...inside(164), budget: TRANSFER })).toContain(hopeless);
    expect(adviceOf({ ...inside(165), budget: TRANSFER })).not.toContain(hopeless);
    expect(adviceOf({ ...inside(164), budget: TRANSFER })).not.toContain("return check");
    expect(adviceOf({ ...inside(164), returnNm: null, budget: TRANSFER })).toContain(
      `${hopeless} A return check is still to come.`,
    );
  });
});

describe("a drifting zero", () => {
  // A return of 6 µm is 1.73 µm of standard uncertainty; a quarter of it guards 712 nm.
  it("is asked for anew, with a quarter of the return, where that decides", () => {
    expect(adviceOf({ ...inside(1000), returnNm: 6000 })).toMatch(
      / Zero again and measure this bore straight after it, with a return of at most 1\.5 µm: that would decide it \(U below about 1\.2 µm\)\.$/,
    );
    expect(adviceOf({ ...inside(713), returnNm: 6000 })).toContain("Zero again");
    expect(adviceOf({ ...inside(711), returnNm: 6000 })).not.toContain("Zero again");
  });

  it("counts where it was checked at one of the stations, with the larger of their returns", () => {
    const { stations, ...rest } = bench(inside(1000));
    const at = (times: readonly number[]) => stations.map((each, index) => ({ ...each, tMs: times[index] ?? 0 }));
    const still = (kind: "zero" | "return", valueNm: number, tMs: number, returnNm = 0) => ({
      ...referenceOf(kind, valueNm, tMs, { returnNm: toNm(returnNm) }),
      sweeps: sweepsAbout(valueNm, tMs, 3, 0),
    });
    const references = [
      still("zero", 0, 10_000),
      still("return", 4000, 20_000, 4000),
      still("return", 10_000, 30_000, 6000),
    ];
    const shifted = at([10_000, 20_000]).map((each, index) => ({
      ...each,
      valueNm: toNm(each.valueNm + 4000 * index),
    }));
    const [checked] = findBores({ ...rest, stations: shifted, references });
    expect(checked?.advice).toContain("with a return of at most 1.5 µm: that would decide it");
    // Nobody has looked at the zero since the second station.
    const [half] = findBores({ ...rest, stations: shifted, references: references.slice(0, 2) });
    expect(half?.advice).toContain("Zero again");
    expect(half?.advice).toContain("A return check is still to come.");
  });

  it("says so in the gauge's own length, whatever its gain", () => {
    const stations = bench(inside(1000)).stations.map((each) => ({ ...each, valueNm: toNm(each.valueNm / 1.02) }));
    expect(adviceOf({ ...inside(1000), returnNm: 6000 }, { gain: 1.02, stations })).toContain("at most 1.5 µm");
  });

  it("is no advice before the check that would have shown it", () => {
    const references = [referenceOf("zero", 0, 1000), referenceOf("return", 0, 10_000, { returnNm: toNm(6000) })].map(
      (each) => ({ ...each, sweeps: sweepsAbout(0, each.tMs, 3, 0) }),
    );
    const advice = adviceOf(inside(1000), { references });
    expect(advice).not.toContain("Zero again");
    expect(advice).toContain(
      "zero drift between checks would have to come down from 1.7 µm to 0.6 µm (standard uncertainty). " +
        "Otherwise pair another lifter, or treat it as not fitting. A return check is still to come.",
    );
  });
});

describe("temperatures", () => {
  const materials = {
    block: { ...STONE, alpha: 30 },
    lifter: { ...STONE, alpha: 10 },
  };

  // ± 3 °C of both is 741 nm of standard uncertainty; ± 0.5 °C of each by 30 and by 10 millionths is 195 nm.
  it("are asked for where a thermometer on each decides", () => {
    expect(adviceOf(inside(400), { materials })).toMatch(
      / Measure the temperature of block and lifter: that would decide it \(U below about 0\.5 µm\)\.$/,
    );
    expect(adviceOf(inside(322), { materials })).toContain("Measure the temperature");
    expect(adviceOf(inside(320), { materials })).not.toContain("Measure the temperature");
  });

  it("are worth as much as the thermometer is", () => {
    const budget = { thermometerHalfWidthC: 1 };
    expect(adviceOf({ ...inside(644), budget }, { materials })).toContain("Measure the temperature");
    expect(adviceOf({ ...inside(638), budget }, { materials })).not.toContain("Measure the temperature");
  });

  it("make an uncertain expansion matter less, by how little they are uncertain themselves", () => {
    const unsure = { ...STONE, alphaHalfWidth: 30 };
    // D · 30 millionths/√3 · 3 °C/√3 each, and a sixth of it once measured, beside 101 nm of the temperatures.
    const after = Math.SQRT2 * Math.hypot(21_386_800 * 30e-6 * (0.5 / 3), 21_386_800 * 10e-6 * (0.5 / Math.sqrt(3)));
    const all = { materials: { block: unsure, lifter: unsure } };
    expect(adviceOf(inside(Math.ceil(1.645 * after) + 1), all)).toContain("Measure the temperature");
    expect(adviceOf(inside(Math.floor(1.644 * after) - 1), all)).not.toContain("Measure the temperature");
  });

  it("settle nothing but what expands", () => {
    const unsure = { ...STONE, alphaHalfWidth: 30 };
    const all = { materials: { block: unsure, lifter: unsure } };
    // The transfer's 1 µm alone guards 1645 nm.
    expect(adviceOf({ ...inside(1600), budget: TRANSFER }, all)).not.toContain(
      "Measure the temperature of block and lifter: that",
    );
    expect(adviceOf({ ...inside(1700), budget: TRANSFER }, all)).toContain(
      "Measure the temperature of block and lifter: that",
    );
  });

  it("are asked for where one of the stations still lacks them", () => {
    const { stations, ...rest } = bench(inside(400), { materials });
    const later = stations.map((each, at) => (at === 1 ? each : { ...each, tMs: 30_000 }));
    const temperatures = [{ tMs: 20_000, blockC: 20, lifterC: 20 }];
    const [bore] = findBores({ ...rest, stations: later, temperatures });
    expect(bore?.advice).toContain("Measure the temperature of block and lifter");
  });

  it("far from 20 °C are not asked for again: a closer thermometer would be, and that is another matter", () => {
    const unsure = { ...STONE, alphaHalfWidth: 30 };
    const all = { materials: { block: unsure, lifter: unsure }, temperatures: [{ tMs: 0, blockC: 30, lifterC: 30 }] };
    expect(adviceOf(inside(2000), all)).not.toContain("Measure the temperature");
  });

  it("are not asked for twice", () => {
    const temperatures = [{ tMs: 0, blockC: 20, lifterC: 20 }];
    const advice = adviceOf({ ...inside(300), budget: TRANSFER }, { materials, temperatures });
    expect(advice).not.toContain("Measure the temperature");
  });
});

describe("more sweeps", () => {
  // Two stations of three sweeps that scatter by 1.5 µm: four degrees of freedom, one-sided 95 % at t = 2.132.
  // Medians of 3, 4, 5, 6 … 14, 15 guard 2142, 1746, 1713, 1482 … 1022, 1020 nm.
  const scattered = (nm: number) => ({ ...inside(nm), scatterNm: 1500 });

  it.each([
    [1750, "Take one more sweep at each station (4 in all): that would decide it"],
    [1720, "Take 2 more sweeps at each station (5 in all): that would decide it"],
    [1700, "Take 3 more sweeps at each station (6 in all): that would decide it"],
    [1021, "Take 12 more sweeps at each station (15 in all): that would decide it"],
  ])("%d nm from the limit: %s", (nm, sentence) => {
    expect(adviceOf(scattered(nm))).toContain(sentence);
  });

  it("than fifteen are no longer practical", () => {
    const advice = adviceOf(scattered(1019));
    expect(advice).not.toContain("Take");
    expect(advice).toContain("repeatability of the station value would have to come down from 1.0 µm to 0.5 µm");
  });

  it("bring the station with few sweeps up to the other, and take none away from it", () => {
    const { stations, ...rest } = bench({ upper: 41_000, lower: HIGH - 2400, scatterNm: 1500 });
    const [upper, lower] = stations;
    if (upper === undefined || lower === undefined) throw new Error("two stations");
    // Ten sweeps that scatter by 4.0 µm at the lower station; t at 11 degrees of freedom is 1.796. Medians of 10, 13 and
    // 14 sweeps guard 2696, 2476 and 2316 nm.
    const ten = { ...lower, sweeps: sweepsAbout(lower.valueNm, 10_000, 10, 1500) };
    const [bore] = findBores({ ...rest, stations: [upper, ten] });
    expect(bore?.verdict).toBe("undecided");
    expect(bore?.advice).toContain("Take 11 more sweeps at each station (14 in all): that would decide it");
  });
});

describe("sweeps at one station only", () => {
  it("are asked for although the other has as many as are practical", () => {
    const { stations, ...rest } = bench({ upper: 41_000, lower: HIGH - 2400, scatterNm: 1500 });
    const [upper, lower] = stations;
    if (upper === undefined || lower === undefined) throw new Error("two stations");
    const fifteen = { ...upper, sweeps: sweepsAbout(upper.valueNm, 10_000, 15, 500) };
    const [bore] = findBores({ ...rest, stations: [fifteen, { ...lower, valueNm: toNm(HIGH - 1800) }] });
    expect(bore?.advice).toMatch(/Take (one|\d+) more sweeps? at each station/);
  });
});

describe("the bore's own lifter", () => {
  it("is to be set where the micrometer's error on two lifters is what costs", () => {
    expect(adviceOf({ ...inside(1000), budget: TWICE_THE_MICROMETER }, setToOther())).toMatch(
      / Set the micrometer to this bore's own lifter and zero again: that would decide it \(U below about 1\.2 µm\)\.$/,
    );
    expect(adviceOf({ ...inside(1000), budget: TRANSFER })).not.toContain("own lifter");
  });
});

describe("a finer gauge", () => {
  // Indicator ± 3 µm and twice 1 µm of graduation: 1779 nm; a half, a fifth and a tenth guard 1464, 585 and 293 nm.
  const coarse = { sends: "held" as const, resolutionNm: toNm(1000) };
  const budget = { indicatorNm: toNm(3000) };

  it.each([
    [1470, "Use a finer gauge: 0.50 µm resolution and at most 1.50 µm indicator error: that would decide it"],
    [590, "Use a finer gauge: 0.20 µm resolution and at most 0.60 µm indicator error: that would decide it"],
    [294, "Use a finer gauge: 0.10 µm resolution and at most 0.30 µm indicator error: that would decide it"],
  ])("%d nm from the limit: %s", (nm, sentence) => {
    expect(adviceOf({ ...inside(nm), budget }, coarse)).toContain(sentence);
  });
});

describe("least effort first", () => {
  const both = { budget: TWICE_THE_MICROMETER, returnNm: 3464 };

  it("a zero again comes before another setting where either decides, and the setting where only it does", () => {
    // Each is 1 µm; without the one or a quarter of the other 1645 or 1696 nm are guarded.
    expect(adviceOf({ ...inside(1800), ...both }, setToOther(3464))).toContain("Zero again");
    expect(adviceOf({ ...inside(1800), ...both }, setToOther(3464))).not.toContain("Set the micrometer");
    expect(adviceOf({ ...inside(1660), ...both }, setToOther(3464))).toContain("Set the micrometer");
  });

  it("where no single step decides, those that do together are named, and no others", () => {
    expect(adviceOf({ ...inside(500), ...both }, setToOther(3464))).toMatch(
      / No single step decides it \(U below about 0\.6 µm is needed\)\. Together these would: Zero again and measure this bore straight after it, with a return of at most 0\.9 µm; Set the micrometer to this bore's own lifter and zero again\.$/,
    );
  });

  it("though a third would help a little", () => {
    // A tenth of the indicator's 115 nm is not needed: 275 nm guard 452.
    const budget = { ...both.budget, indicatorNm: toNm(200) };
    expect(adviceOf({ ...inside(600), ...both, budget }, setToOther(3464))).toMatch(
      /Together these would: Zero again [^;]*; Set the micrometer to this bore's own lifter and zero again\.$/,
    );
  });

  it("of graded steps the strongest is taken together with others", () => {
    const advice = adviceOf({ ...inside(1200), scatterNm: 1500, budget: TWICE_THE_MICROMETER }, setToOther());
    expect(advice).toContain(
      "Together these would: Take 12 more sweeps at each station (15 in all); Set the micrometer to this bore's own lifter and zero again.",
    );
  });
});

describe("what no step of the bench reaches", () => {
  it("is told by how far the largest line would have to come down; feel by fresh settings of the micrometer", () => {
    expect(adviceOf({ ...inside(500), budget: TRANSFER })).toMatch(
      / U below about 0\.6 µm would decide it: transfer through the micrometer: faces, feel would have to come down from 1\.0 µm to 0\.3 µm \(standard uncertainty\), for example by the mean of several fresh settings of the micrometer\. Otherwise pair another lifter, or treat it as not fitting\.$/,
    );
  });

  it("is left alone where even the largest line gone would not do", () => {
    // Beside the transfer's 1 µm the block's temperature makes another.
    const materials = { block: { ...STONE, alpha: 162 }, lifter: { ...STONE, alpha: 0 } };
    const temperatures = [{ tMs: 0, blockC: 20, lifterC: 20 }];
    expect(adviceOf({ ...inside(500), budget: TRANSFER }, { materials, temperatures })).toMatch(
      / U below about 0\.6 µm would decide it, more than sweeps, temperatures and a ten times finer gauge give: pair another lifter, or treat it as not fitting\.$/,
    );
  });

  it("is no question for a bore without stations", () => {
    expect(() => adviceFor(exampleInput(), [])).toThrow("advice for a bore without stations");
  });
});
