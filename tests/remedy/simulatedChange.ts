import type { StationPlace } from "../../core/block/layout.ts";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import type { FitInput, MeasuredStation } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import type { Sends } from "../../core/gauge/profile.ts";
import { toNm } from "../../core/length/nm.ts";
import { median } from "../../core/sweep/median.ts";
import { judgeReferences } from "../../core/zero/judgeReferences.ts";
import type { Reference } from "../../core/zero/reference.ts";
import { materialNamed } from "../fit/exampleInput.ts";
import type { Random } from "../fit/simulatedBlock.ts";

/** A bench that a block is measured on twice; lengths in nm. Errors are drawn from what their budget lines state. */
export interface TwiceBench {
  readonly bores: number;
  readonly places: readonly StationPlace[];
  readonly block: string;
  readonly temperaturesMeasured: boolean;
  readonly sends: Sends;
  /** Mean excess of a press in a bore; in the micrometer, which rocks in two planes, it is twice as much. */
  readonly excessNm: number;
  readonly resolutionNm: number;
  /** Standard deviation of a single held minimum. */
  readonly noiseNm: number;
  readonly sweeps: number;
  /** Standard deviation of the return between two checks. */
  readonly driftNm: number;
  /** Bores between two return checks. */
  readonly checkEvery: number;
  readonly lifters: "not measured" | "same" | "other";
}

export const TWICE: TwiceBench = {
  bores: 16,
  places: [
    { height: "upper", clock: "axial" },
    { height: "lower", clock: "axial" },
  ],
  block: "grey-iron",
  temperaturesMeasured: false,
  sends: "held",
  excessNm: 600,
  resolutionNm: 1270,
  noiseNm: 500,
  sweeps: 3,
  driftNm: 600,
  checkEvery: 8,
  lifters: "not measured",
};

export const NOMINAL_NM = 21_386_800;

/** A block as it truly is: bores by name and place, and what its materials do. */
export interface TrueThings {
  readonly bores: ReadonlyMap<string, readonly number[]>;
  readonly alphaBlock: number;
  readonly alphaLifter: number;
}

export function drawThings(random: Random, bench: TwiceBench): TrueThings {
  const names = Array.from({ length: bench.bores }, (_, at) => `B${at + 1}`);
  return {
    bores: new Map(
      names.map((name) => [name, bench.places.map(() => NOMINAL_NM + random.within(33_000, 48_000))] as const),
    ),
    alphaBlock: materialNamed(bench.block).alpha + random.within(-1, 1),
    alphaLifter: materialNamed("steel").alpha + random.within(-1, 1),
  };
}

/** The same block after so much metal is gone, by bore and place (nm on diameter). */
export function cut(things: TrueThings, byNm: (bore: string, place: number) => number): TrueThings {
  const bores = [...things.bores].map(
    ([name, sizes]) => [name, sizes.map((size, place) => size + byNm(name, place))] as const,
  );
  return { ...things, bores: new Map(bores) };
}

/** One session: zero, bores, return checks; every error of it drawn anew. `setNm` is the lifter in the micrometer. */
export function measureOnce(random: Random, bench: TwiceBench, things: TrueThings, setNm: number): FitInput {
  const budget = BUDGET_DEFAULTS;
  const common = 20 + random.within(-1, 1) * budget.temperatureHalfWidthC;
  const blockC = bench.temperaturesMeasured ? random.within(15, 28) : common;
  const lifterC = bench.temperaturesMeasured ? random.within(15, 28) : common;
  const thermometer = () => random.within(-1, 1) * budget.thermometerHalfWidthC;
  const offset = random.within(-40_000, 40_000);
  const shared = budget.transferNm * random.normal() + random.within(-1, 1) * budget.indicatorNm;
  const setNow = setNm * (1 + things.alphaLifter * 1e-6 * (lifterC - 20));
  let tMs = 0;

  const shown = (nm: number) => Math.round(nm / bench.resolutionNm) * bench.resolutionNm;
  const readOnce = (trueNm: number, planes: 1 | 2): number => {
    if (bench.sends === "stream") {
      // A turning point rests on several samples, each rounded, so single ones are noisier than the sweep.
      const samples = Array.from({ length: 4 }, () => shown(trueNm + 2 * bench.noiseNm * random.normal()));
      return samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
    }
    let excess = 0;
    if (bench.sends === "press") {
      for (let plane = 0; plane < planes; plane += 1) excess += bench.excessNm * random.normal() ** 2;
    }
    return shown(trueNm + excess + bench.noiseNm * random.normal());
  };
  const take = (trueNm: number, planes: 1 | 2) => {
    const values: number[] = [];
    while (values.length < 40) {
      values.push(readOnce(trueNm, planes));
      const last = values.slice(-bench.sweeps);
      if (last.length === bench.sweeps && Math.max(...last) - Math.min(...last) <= 2540) break;
    }
    const sweeps = values.map((value) => {
      const nm = toNm(value);
      return { tMs, rawMinNm: nm, turningPointNm: nm, samples: 1, method: "raw" as const, use: "kept" as const };
    });
    const spreadNm = toNm(Math.max(...values) - Math.min(...values));
    return { tMs, valueNm: toNm(bench.sends === "press" ? Math.min(...values) : median(values)), spreadNm, sweeps };
  };

  const references: Reference[] = [];
  const stations: MeasuredStation[] = [];
  let from = 0;
  let to = 0;
  [...things.bores].forEach(([bore, sizes], at) => {
    if (at % bench.checkEvery === 0) {
      if (at > 0) from = to;
      to = from + bench.driftNm * random.normal();
      tMs += 30_000;
      references.push({ ...take(offset + from, 2), kind: at === 0 ? "zero" : "return", lifter: "B1" });
    }
    const wander = (random.within(-1, 1) * (to - from)) / 2;
    sizes.forEach((size, index) => {
      tMs += 10_000;
      const share = (at % bench.checkEvery) / bench.checkEvery;
      const boreNow = size * (1 + things.alphaBlock * 1e-6 * (blockC - 20));
      const zero = from + share * (to - from) + wander;
      const seen = offset + zero + (boreNow - setNow) + shared - random.within(0, budget.centringNm);
      const place = bench.places[index] as StationPlace;
      stations.push({ bore, place, ...take(seen, 1) });
    });
  });
  tMs += 30_000;
  references.push({ ...take(offset + to, 2), kind: "return", lifter: "B1" });
  const read = setNm + random.within(-1, 1) * budget.micrometerNm + random.within(-0.5, 0.5) * bench.resolutionNm;
  return {
    bores: [...things.bores.keys()],
    places: bench.places,
    stations,
    references: judgeReferences(references, toNm(1e6)),
    lifters: new Map(bench.lifters === "not measured" ? [] : [["B1", toNm(read)] as const]),
    nominalLifterNm: toNm(NOMINAL_NM),
    limits: SHIPPED_LIMITS.flat,
    rule: "guarded",
    sends: bench.sends,
    resolutionNm: toNm(bench.resolutionNm),
    micrometerResolutionNm: toNm(bench.resolutionNm),
    gain: 1,
    materials: { block: materialNamed(bench.block), lifter: materialNamed("steel") },
    temperatures: bench.temperaturesMeasured
      ? [{ tMs: 0, blockC: blockC + thermometer(), lifterC: lifterC + thermometer() }]
      : [],
    budget,
  };
}
