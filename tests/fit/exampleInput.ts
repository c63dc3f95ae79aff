import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import type { FitInput, Material, MeasuredStation } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { MATERIALS } from "../../core/fit/materials.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import type { JudgedReference } from "../../core/zero/reference.ts";

export function materialNamed(id: string): Material {
  const found = MATERIALS[id];
  if (found === undefined) throw new Error(`no material ${id}`);
  return found;
}

/** Sweeps about a value (nm), spread by `step`: value, value + step, value − step, … so that their median is the value. */
export function sweepsAbout(valueNm: number, tMs: number, count = 3, stepNm = 300): Sweep[] {
  return Array.from({ length: count }, (_, at) => {
    const value = toNm(valueNm + (at % 2 === 0 ? -1 : 1) * Math.ceil(at / 2) * stepNm);
    return { tMs, rawMinNm: value, turningPointNm: value, samples: 6, method: "rhythm", use: "kept" };
  });
}

export function stationOf(bore: string, height: string, valueNm: number, tMs: number, count = 3): MeasuredStation {
  const sweeps = sweepsAbout(valueNm, tMs, count);
  return { bore, place: { height, clock: "axial" }, tMs, valueNm: toNm(valueNm), spreadNm: toNm(600), sweeps };
}

export function referenceOf(
  kind: "zero" | "return",
  valueNm: number,
  tMs: number,
  change: Partial<JudgedReference> = {},
): JudgedReference {
  const sweeps = sweepsAbout(valueNm, tMs);
  const valued = { tMs, valueNm: toNm(valueNm), spreadNm: toNm(600), sweeps };
  return { ...valued, kind, lifter: "1I", returnNm: toNm(0), held: true, ...change };
}

/** Two bores of two heights measured against one zero of −3000 nm at 20 °C; 1I clears 40.6 µm, 1E 44.0 µm about. */
export function exampleInput(change: Partial<FitInput> = {}): FitInput {
  return {
    bores: ["1I", "1E"],
    places: [
      { height: "upper", clock: "axial" },
      { height: "lower", clock: "axial" },
    ],
    stations: [
      stationOf("1I", "upper", 37_600, 20_000),
      stationOf("1I", "lower", 37_900, 30_000),
      stationOf("1E", "upper", 41_000, 40_000),
      stationOf("1E", "lower", 41_500, 50_000),
    ],
    references: [referenceOf("zero", -3000, 10_000), referenceOf("return", -3000, 60_000)],
    lifters: new Map(),
    nominalLifterNm: toNm(21_386_800),
    limits: SHIPPED_LIMITS.flat,
    rule: "guarded",
    sends: "stream",
    resolutionNm: toNm(1270),
    micrometerResolutionNm: toNm(1270),
    gain: 1,
    materials: { block: materialNamed("grey-iron"), lifter: materialNamed("steel") },
    temperatures: [],
    budget: BUDGET_DEFAULTS,
    ...change,
  };
}
