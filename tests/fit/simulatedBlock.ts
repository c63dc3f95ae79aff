import type { StationPlace } from "../../core/block/layout.ts";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import type { FitInput, MeasuredStation } from "../../core/fit/finding.ts";
import { SHIPPED_LIMITS } from "../../core/fit/limitsDefaults.ts";
import { MATERIALS } from "../../core/fit/materials.ts";
import type { Sends } from "../../core/gauge/profile.ts";
import { toNm } from "../../core/length/nm.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { judgeReferences } from "../../core/zero/judgeReferences.ts";
import type { Reference } from "../../core/zero/reference.ts";

/** Seeded random numbers, so that every run sees the same blocks. */
export class Random {
  #state: number;
  constructor(seed: number) {
    this.#state = seed >>> 0;
  }
  /** Inside 0 … 1. */
  uniform(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return (((t ^ (t >>> 14)) >>> 0) + 0.5) / 4294967296;
  }
  within(low: number, high: number): number {
    return low + (high - low) * this.uniform();
  }
  normal(): number {
    return Math.sqrt(-2 * Math.log(this.uniform())) * Math.cos(2 * Math.PI * this.uniform());
  }
}

/** How a simulated bench errs; lengths in nm. Every error is drawn from the distribution that its budget line states. */
export interface Bench {
  readonly sends: Sends;
  readonly resolutionNm: number;
  /** Standard deviation of a single sweep (of the display, for presses). */
  readonly noiseNm: number;
  /** Mean excess of a press in a bore; in the micrometer, which rocks in two planes, it is twice as much. */
  readonly excessNm: number;
  readonly sweeps: number;
  readonly bores: number;
  readonly places: readonly StationPlace[];
  readonly block: string;
  readonly temperaturesMeasured: boolean;
  /** Standard deviation of the return between two checks. */
  readonly driftNm: number;
  /** True when every bore has a lifter of its own, measured once. */
  readonly ownLifters: boolean;
  /** True clearances are drawn uniformly from here. */
  readonly clearanceLowNm: number;
  readonly clearanceHighNm: number;
}

export const BENCH: Bench = {
  sends: "held",
  resolutionNm: 1270,
  noiseNm: 500,
  excessNm: 600,
  sweeps: 3,
  bores: 4,
  places: [
    { height: "upper", clock: "axial" },
    { height: "lower", clock: "axial" },
  ],
  block: "grey-iron",
  temperaturesMeasured: false,
  driftNm: 600,
  ownLifters: false,
  clearanceLowNm: 30_000,
  clearanceHighNm: 52_000,
};

/** A bench of any kind the budget is meant for: other gauge, display, hand, noise, block, lifters, drift, temperatures. */
export function randomBench(random: Random): Bench {
  const oneOf = <T>(choices: readonly T[]): T => choices[Math.floor(random.within(0, choices.length))] as T;
  const sends = oneOf<Sends>(["stream", "press", "held"]);
  return {
    ...BENCH,
    sends,
    resolutionNm: oneOf([127, 500, 1000, 1270]),
    noiseNm: sends === "press" ? random.within(100, 600) : random.within(100, 1000),
    excessNm: oneOf([0, 200, 600, 1500]),
    sweeps: oneOf([3, 4, 5]),
    bores: oneOf([2, 4, 8]),
    block: oneOf(["grey-iron", "aluminium-356"]),
    temperaturesMeasured: random.uniform() < 0.5,
    driftNm: random.within(100, 1500),
    ownLifters: random.uniform() < 0.5,
  };
}

export interface SimulatedBlock {
  readonly input: FitInput;
  /** True clearance at 20 °C by bore, then by place in the order of `places`. */
  readonly truth: ReadonlyMap<string, readonly number[]>;
}

const AGREEMENT_NM = 2540;
const LIFTER_NM = 21_386_800;
const CHECK_EVERY = 2;

function sweepOf(tMs: number, valueNm: number): Sweep {
  const value = toNm(valueNm);
  return { tMs, rawMinNm: value, turningPointNm: value, samples: 1, method: "raw", use: "kept" };
}

/** Sweeps of one place until the last ones agree, and the station value by what the gauge sends. */
function measure(random: Random, bench: Bench, trueNm: number, tMs: number, planes: 1 | 2) {
  const values: number[] = [];
  while (values.length < 40) {
    values.push(readOnce(random, bench, trueNm, planes));
    const last = values.slice(-bench.sweeps);
    if (last.length === bench.sweeps && Math.max(...last) - Math.min(...last) <= AGREEMENT_NM) break;
  }
  const sorted = [...values].sort((a, b) => a - b);
  const middle =
    ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.floor(sorted.length / 2)] ?? 0)) / 2;
  const valueNm = toNm(bench.sends === "press" ? (sorted[0] ?? 0) : middle);
  const spreadNm = toNm((sorted[sorted.length - 1] ?? 0) - (sorted[0] ?? 0));
  return { tMs, valueNm, spreadNm, sweeps: values.map((value) => sweepOf(tMs, value)) };
}

function readOnce(random: Random, bench: Bench, trueNm: number, planes: 1 | 2): number {
  const shown = (noiseNm: number) =>
    Math.round((trueNm + noiseNm * random.normal()) / bench.resolutionNm) * bench.resolutionNm;
  if (bench.sends === "stream") {
    // A turning point rests on several samples, each rounded, so single ones are noisier than the sweep.
    const samples = Array.from({ length: 4 }, () => shown(2 * bench.noiseNm));
    return samples.reduce((sum, sample) => sum + sample, 0) / samples.length;
  }
  if (bench.sends === "held") return shown(bench.noiseNm);
  let excess = 0;
  for (let plane = 0; plane < planes; plane += 1) excess += bench.excessNm * random.normal() ** 2;
  return Math.round((trueNm + excess + bench.noiseNm * random.normal()) / bench.resolutionNm) * bench.resolutionNm;
}

/** A walk round a block that is not there: zero, bores with return checks, every error drawn anew. */
export function simulateBlock(random: Random, bench: Bench): SimulatedBlock {
  const blockMaterial = MATERIALS[bench.block];
  const lifterMaterial = MATERIALS.steel;
  if (blockMaterial === undefined || lifterMaterial === undefined) throw new Error(`no material ${bench.block}`);
  const budget = BUDGET_DEFAULTS;
  const alphaBlock = blockMaterial.alpha + random.within(-1, 1) * blockMaterial.alphaHalfWidth;
  const alphaLifter = lifterMaterial.alpha + random.within(-1, 1) * lifterMaterial.alphaHalfWidth;
  const common = 20 + random.within(-1, 1) * budget.temperatureHalfWidthC;
  const blockC = bench.temperaturesMeasured ? random.within(15, 28) : common;
  const lifterC = bench.temperaturesMeasured ? random.within(15, 28) : common;
  const thermometer = () => random.within(-1, 1) * budget.thermometerHalfWidthC;

  const transfer = budget.transferNm * random.normal();
  const indicator = random.within(-1, 1) * budget.indicatorNm;
  const offset = random.within(-40_000, 40_000);
  const set = "B1";
  const names = Array.from({ length: bench.bores }, (_, at) => `B${at + 1}`);
  const diameters = new Map(names.map((name) => [name, LIFTER_NM + (bench.ownLifters ? 4000 * random.normal() : 0)]));
  const micrometer = () =>
    Math.round(random.within(-1, 1) * budget.micrometerNm + random.within(-0.5, 0.5) * bench.resolutionNm);

  const references: Reference[] = [];
  const stations: MeasuredStation[] = [];
  const truth = new Map<string, readonly number[]>();
  // The zero of the gauge wanders by one return from check to check, and between them inside half of it about the line.
  let zeroFrom = 0;
  let zeroTo = 0;
  let tMs = 0;
  const setNm = diameters.get(set) ?? LIFTER_NM;
  names.forEach((name, at) => {
    if (at % CHECK_EVERY === 0) {
      if (at > 0) zeroFrom = zeroTo;
      zeroTo = zeroFrom + bench.driftNm * random.normal();
      tMs += 30_000;
      references.push({
        ...measure(random, bench, offset + zeroFrom, tMs, 2),
        kind: at === 0 ? "zero" : "return",
        lifter: set,
      });
    }
    const clearances = bench.places.map(() => random.within(bench.clearanceLowNm, bench.clearanceHighNm));
    truth.set(name, clearances);
    // Drift is slow: what it strays from the line is the same for the stations of a bore.
    const wander = (random.within(-1, 1) * (zeroTo - zeroFrom)) / 2;
    bench.places.forEach((place, index) => {
      tMs += 10_000;
      const share = (at % CHECK_EVERY) / CHECK_EVERY;
      const zero = zeroFrom + share * (zeroTo - zeroFrom) + wander;
      const lifterAt = diameters.get(name) ?? LIFTER_NM;
      const boreNow = (lifterAt + (clearances[index] ?? 0)) * (1 + alphaBlock * 1e-6 * (blockC - 20));
      const setNow = setNm * (1 + alphaLifter * 1e-6 * (lifterC - 20));
      const centring = random.within(0, budget.centringNm);
      const seen = offset + zero + (boreNow - setNow) + transfer + indicator - centring;
      stations.push({ bore: name, place, ...measure(random, bench, seen, tMs, 1) });
    });
  });
  references.push({ ...measure(random, bench, offset + zeroTo, tMs + 30_000, 2), kind: "return", lifter: set });

  return {
    truth,
    input: {
      bores: names,
      places: bench.places,
      stations,
      references: judgeReferences(references, toNm(1e6)),
      lifters: new Map(
        bench.ownLifters
          ? [...diameters].map(([name, diameter]) => [name, toNm(diameter + micrometer())] as const)
          : [],
      ),
      nominalLifterNm: toNm(LIFTER_NM),
      limits: SHIPPED_LIMITS.flat,
      rule: "guarded",
      sends: bench.sends,
      resolutionNm: toNm(bench.resolutionNm),
      micrometerResolutionNm: toNm(bench.resolutionNm),
      gain: 1,
      materials: { block: blockMaterial, lifter: lifterMaterial },
      temperatures: bench.temperaturesMeasured
        ? [{ tMs: 0, blockC: blockC + thermometer(), lifterC: lifterC + thermometer() }]
        : [],
      budget,
    },
  };
}
