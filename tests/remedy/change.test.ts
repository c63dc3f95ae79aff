import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { FitInput } from "../../core/fit/finding.ts";
import { sessionScatter, stationClearance } from "../../core/fit/stationFit.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { boreChanges } from "../../core/remedy/change/boreChanges.ts";
import {
  covariance,
  type ErrorSource,
  type Sized,
  stationSources,
  uncertaintyOf,
  weighted,
} from "../../core/remedy/change/errorSources.ts";
import { setLifters } from "../../core/remedy/change/setLifters.ts";
import { type StationChange, stationChanges } from "../../core/remedy/change/stationChanges.ts";
import { untouchedLevel } from "../../core/remedy/change/untouchedLevel.ts";
import { exampleInput, materialNamed, referenceOf } from "../fit/exampleInput.ts";

const source = (key: string, byNm: number, degreesOfFreedom = Number.POSITIVE_INFINITY): ErrorSource => ({
  key,
  byNm,
  pool: key,
  degreesOfFreedom,
});
const size = (valueNm: number, ...sources: ErrorSource[]): Sized => ({ valueNm, sources });

/** The errors of a station of the example, in one session. */
function sourcesOf(input: FitInput, index = 0): { readonly sources: ErrorSource[]; readonly combined: number } {
  const scatter = sessionScatter(input);
  const station = input.stations[index];
  if (station === undefined) throw new Error("the example has four stations");
  const judged = stationClearance(input, station, scatter, { name: null, diameterNm: null });
  if (judged === null) throw new Error("the example's zero holds");
  return { sources: stationSources("after", input, scatter, station, judged), combined: judged.budget.combined };
}

describe("the errors of a size, source by source", () => {
  it.each([
    ["temperatures not measured", {}],
    ["temperatures measured", { temperatures: [{ tMs: 0, blockC: 27, lifterC: 24 }] }],
    ["an aluminium block", { materials: { block: materialNamed("aluminium-356"), lifter: materialNamed("steel") } }],
    ["a gain", { gain: 1.01 }],
    ["no return check yet", { references: [referenceOf("zero", -3000, 10_000)] }],
    ["a zero that drifts", { references: [referenceOf("zero", -3000, 10_000), referenceOf("return", -1000, 60_000)] }],
  ] as const)(
    "add up to the budget that the findings state, but for centring, of which the mean cancels: %s",
    (_, change) => {
      for (const index of [0, 1, 2, 3]) {
        const { sources, combined } = sourcesOf(exampleInput(change as Partial<FitInput>), index);
        const { budget } = exampleInput();
        const centring = budget.centringNm / Math.sqrt(3);
        const expected = Math.sqrt(combined ** 2 - centring ** 2 + (centring / 2) ** 2);
        expect(uncertaintyOf(size(0, ...sources)).u).toBeCloseTo(expected, 6);
      }
    },
  );

  it("keep the degrees of freedom of the pooled sweeps once, however many stations share them", () => {
    const pooled = (key: string): ErrorSource => ({ key, byNm: 300, pool: "sweeps", degreesOfFreedom: 8 });
    const sum = weighted([
      { size: size(0, pooled("a")), weight: 1 },
      { size: size(0, pooled("b")), weight: 1 },
    ]);
    expect(uncertaintyOf(sum)).toMatchObject({ u: Math.hypot(300, 300), degreesOfFreedom: 8 });
    const apart = [source("a", 300, 8), source("b", 300, 8)];
    expect(uncertaintyOf(size(0, ...apart)).degreesOfFreedom).toBeCloseTo(16, 9);
  });

  it("cancel where the same one is taken off, and add where it is another", () => {
    const [one, same, other] = [size(7, source("k", 400)), size(3, source("k", 400)), size(3, source("l", 300))];
    const less = (taken: Sized) =>
      weighted([
        { size: one, weight: 1 },
        { size: taken, weight: -1 },
      ]);
    expect(less(same).valueNm).toBe(4);
    expect(uncertaintyOf(less(same)).u).toBe(0);
    expect(uncertaintyOf(less(other)).u).toBe(500);
    expect(covariance(one, same)).toBe(160_000);
    expect(covariance(one, other)).toBe(0);
  });
});

describe("the change of a place", () => {
  const lifters = (nm: number) => new Map<string, Nm>([["1I", toNm(nm)]]);
  const shifted = (input: FitInput, byNm: number, change: Partial<FitInput> = {}): FitInput => ({
    ...input,
    stations: input.stations.map((station) => ({ ...station, valueNm: toNm(station.valueNm + byNm) })),
    ...change,
  });

  it("is what the gauge shows more, whatever the lifter reads, and free of the micrometer's scale", () => {
    fc.assert(
      fc.property(fc.integer({ min: -9000, max: 9000 }), fc.integer({ min: -2000, max: 2000 }), (byNm, misread) => {
        const before = exampleInput({ lifters: lifters(21_386_800) });
        const after = shifted(before, byNm, { lifters: lifters(21_386_800 + misread) });
        for (const { change, beforeNm, afterNm } of stationChanges(before, after).stations) {
          expect(change?.valueNm).toBeCloseTo(byNm, 6);
          expect((afterNm ?? 0) - (beforeNm ?? 0)).toBeCloseTo(byNm, 6);
        }
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });

  it("keeps what was read anew twice, and of the expansion only the difference of the temperatures", () => {
    const at = (blockC: number, lifterC: number) =>
      exampleInput({ temperatures: [{ tMs: 0, blockC, lifterC }], lifters: lifters(21_386_800) });
    const uOf = (before: FitInput, after: FitInput) => {
      const change = stationChanges(before, after).stations[0]?.change;
      return uncertaintyOf(change ?? size(0)).u;
    };
    const single = uncertaintyOf(size(0, ...sourcesOf(at(20, 20)).sources)).u;
    // At 20 °C no coefficient counts but by how well the temperature is known, which is another error each day.
    expect(uOf(at(20, 20), at(20, 20))).toBeCloseTo(Math.SQRT2 * single, 6);
    expect(uOf(at(35, 35), at(35, 35))).toBeCloseTo(uOf(at(20, 20), at(20, 20)), 6);
    // 21.3868 mm · 1e-6/√3 · 15 °C for the block and the same for the lifter (derived).
    const expansion = Math.SQRT2 * ((21_386_800 * 1e-6) / Math.sqrt(3)) * 15;
    expect(uOf(at(20, 20), at(35, 35))).toBeCloseTo(Math.hypot(uOf(at(20, 20), at(20, 20)), expansion), 6);
  });

  it("is not known where either session lacks the place or a zero that holds", () => {
    const input = exampleInput();
    const less = { ...input, stations: input.stations.slice(1) };
    const moved = [referenceOf("zero", -3000, 10_000), referenceOf("return", 9000, 60_000, { held: false })];
    expect(stationChanges(input, less).stations[0]).toMatchObject({ change: null, afterNm: null, expandedNm: null });
    expect(stationChanges(less, input).stations[0]).toMatchObject({ change: null, beforeNm: null });
    const zeroless = stationChanges(input, { ...input, references: moved }).stations;
    expect(zeroless.every(({ why }) => why === "No zero holds for it in the later session.")).toBe(true);
    const never = stationChanges({ ...input, references: [] }, input).stations;
    expect(never.every(({ why }) => why === "No zero holds for it in the earlier session.")).toBe(true);
  });
});

describe("the lifter that the micrometer was set to", () => {
  const input = (nm?: number, name = "1I"): FitInput =>
    exampleInput(nm === undefined ? {} : { lifters: new Map<string, Nm>([[name, toNm(nm)]]) });
  const same = { before: "1I", after: "1I" };
  // The budget's 2 µm and 0.00005 in: u = √(2/√3² + 1.27/√12²) µm in each session, 95 % of both (derived).
  const explained = 1.959964 * Math.SQRT2 * Math.hypot(2000 / Math.sqrt(3), 1270 / Math.sqrt(12));

  it("cancels where it has the same name and reads as it did", () => {
    for (const by of [0, Math.floor(explained), -Math.floor(explained)]) {
      const { difference, text } = setLifters(input(21_386_800), input(21_386_800 + by), same);
      expect(difference).toEqual({ valueNm: 0, sources: [] });
      expect(text).toContain("taken to be the same one");
    }
    expect(setLifters(input(), input(21_386_800), same).difference).toEqual({ valueNm: 0, sources: [] });
  });

  it("counts as measured anew where it reads otherwise by more than the micrometer explains", () => {
    const by = Math.ceil(explained);
    const { difference, text } = setLifters(input(21_386_800), input(21_386_800 + by), same);
    expect(difference?.valueNm).toBe(by);
    expect(1.959964 * uncertaintyOf(difference ?? size(0)).u).toBeCloseTo(explained, 3);
    expect(text).toContain("differs by more than the micrometer explains");
  });

  it("is another one by its name, and then must be measured in both", () => {
    const names = { before: "1I", after: "3E" };
    const known = setLifters(input(21_386_800), input(21_386_000, "3E"), names);
    expect(known.difference?.valueNm).toBe(-800);
    expect(setLifters(input(), input(21_386_000, "3E"), names)).toMatchObject({ difference: null });
    expect(setLifters(input(21_386_800), input(), names).text).toContain("lifter 3E was not measured in the later one");
  });

  it("is not known where a zero does not name it", () => {
    for (const names of [
      { before: null, after: "1I" },
      { before: "1I", after: null },
    ]) {
      const { difference, text } = setLifters(input(1), input(1), names);
      expect(difference).toBeNull();
      expect(text).toContain(`The zero of the ${names.before === null ? "earlier" : "later"} session does not name`);
    }
  });
});

describe("the level of the bores that nothing was done to", () => {
  const bores = (...values: number[]) =>
    values.map((value, index) => size(value, source("setting", 1500), source(`own ${index}`, 800)));
  const levelOf = (...values: number[]) => untouchedLevel(bores(...values), 3.5);

  it("is what most of them show, whatever the others do", () => {
    const most = levelOf(1100, 900, 1000, 9000);
    expect(most?.from).toEqual([0, 1, 2]);
    expect(most?.level.valueNm).toBeCloseTo(1000, 9);
    expect(levelOf(-20_000, 900, 1000, 1100)).toMatchObject({ from: [1, 2, 3] });
  });

  it("lies where the settings may put it, when half of the bores moved", () => {
    const half = levelOf(0, 100, -100, 0, 6000, 6100, 5900, 6000);
    expect(half?.from).toEqual([0, 1, 2, 3]);
  });

  it("is none of two bores, nor where no three agree", () => {
    expect(levelOf(0, 0)).toBeNull();
    expect(levelOf(0, 20_000, 40_000, 60_000)).toBeNull();
    expect(untouchedLevel([], 3.5)).toBeNull();
  });

  it("shares its errors with the bores judged beside it", () => {
    const { level } = levelOf(0, 0, 0) ?? { level: size(Number.NaN) };
    expect(uncertaintyOf(level).u).toBeCloseTo(Math.hypot(1500, 800 / Math.sqrt(3)), 9);
  });
});

describe("which bores changed", () => {
  const place = { height: "upper", clock: "axial" } as const;
  const station = (bore: string, valueNm: number | null, setting = "0 0"): StationChange => ({
    bore,
    place,
    beforeNm: 21_400_000,
    afterNm: valueNm === null ? null : 21_400_000 + valueNm,
    change:
      valueNm === null
        ? null
        : size(valueNm, source(`setting ${setting}`, 1500), source(`own ${bore} ${setting}`, 700)),
    expandedNm: valueNm === null ? null : 3300,
    setting: valueNm === null ? "" : setting,
    why: valueNm === null ? "Not measured." : null,
  });
  const block = (...values: (number | null)[]) => values.map((value, index) => station(`B${index + 1}`, value));
  const changes = (...args: Parameters<typeof boreChanges>) => boreChanges(...args).bores.map(({ change }) => change);

  it("is seen beside the others, though all are off by what setting the micrometer may do", () => {
    expect(changes(block(2900, 3000, 3100, 3000, 3000, 8000))).toEqual([
      ...Array.from({ length: 5 }, () => "none seen"),
      "larger",
    ]);
    expect(changes(block(2900, 3000, 3100, 3000, 3000, -2000)).at(-1)).toBe("smaller");
  });

  it("is seen of all where all moved by more than the settings explain", () => {
    const all = boreChanges(block(9000, 9100, 8900, 9000, 9000));
    expect(all.bores.map(({ change, besideOthers }) => [change, besideOthers])).toEqual(
      Array.from({ length: 5 }, () => ["larger", null]),
    );
    expect(all.groups).toMatchObject([{ level: null }]);
  });

  it("is judged beside those that were to be left alone, where that is known", () => {
    const values = block(0, 100, -100, 5000, 5000, 5000, 5000, 5000);
    const { bores, groups } = boreChanges(values, (bore) => ["B1", "B2", "B3"].includes(bore));
    expect(bores.map(({ change }) => change)).toEqual([
      ...Array.from({ length: 3 }, () => "none seen"),
      ...Array.from({ length: 5 }, () => "larger"),
    ]);
    expect(groups[0]?.level?.from).toEqual(["B1", "B2", "B3"]);
    expect(bores[3]?.besideOthers?.valueNm).toBeCloseTo(5000, 9);
    expect(bores[3]?.besideOthers?.expandedNm).toBeCloseTo(1.959964 * Math.hypot(700, 700 / Math.sqrt(3)), 2);
  });

  it("is not seen where a press is long, as far as one now and then is", () => {
    const pressed = (values: readonly number[]) =>
      block(...values).map((one) => ({
        ...one,
        change: one.change && {
          ...one.change,
          sources: one.change.sources.map((each) => ({ ...each, longTailed: each.key.startsWith("own") })),
        },
      }));
    // Six bores at 0.6 %: 1 − 0.994^(1/6) = 0.0010026 each, so e^(−√2·k) gives k = 4.8827 in place of a normal 3.2898 (derived).
    const bound = (factor: number) => factor * 700 * Math.sqrt(1 + 1 / 5);
    const quiet = [0, 0, 0, 0, 0];
    const inside = [...quiet, bound(4.881)];
    expect(changes(pressed(inside)).at(-1)).toBe("none seen");
    expect(changes(block(...inside)).at(-1)).toBe("larger");
    expect(changes(pressed([...quiet, bound(4.884)])).at(-1)).toBe("larger");
    expect(changes(block(...quiet, bound(3.288))).at(-1)).toBe("none seen");
    expect(changes(block(...quiet, bound(3.291))).at(-1)).toBe("larger");
  });

  it("is not known of what was not measured, and each setting of the micrometer is a group of its own", () => {
    const two = [
      ...block(0, 0, 0, null),
      ...["C1", "C2", "C3", "C4"].map((bore, index) => station(bore, index === 3 ? 7500 : 2500, "9 9")),
    ];
    const { bores, groups } = boreChanges(two);
    expect(bores.map(({ name, change }) => `${name} ${change}`)).toEqual([
      ...["B1", "B2", "B3"].map((name) => `${name} none seen`),
      "B4 not known",
      ...["C1", "C2", "C3"].map((name) => `${name} none seen`),
      "C4 larger",
    ]);
    expect(groups.map(({ bores: group }) => group.length)).toEqual([3, 4]);
    expect(boreChanges([])).toEqual({ bores: [], groups: [] });
  });
});
