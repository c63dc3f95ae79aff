import { describe, expect, it } from "vitest";
import { findBores } from "../../core/fit/findBores.ts";
import { BENCH, type Bench, Random, simulateBlock } from "./simulatedBlock.ts";

const FOUR_STATIONS: Bench["places"] = [
  { height: "upper", clock: "axial" },
  { height: "upper", clock: "cross" },
  { height: "lower", clock: "axial" },
  { height: "lower", clock: "cross" },
];

const ONE_STATION = FOUR_STATIONS.slice(0, 1);
const PRESSES = { sends: "press" as const, noiseNm: 300 };

const BLOCKS = 3000;
/** 5 %, and twice the standard error of a share of 5 % in so many blocks, since a block's bores err together. */
const AT_MOST = 0.05 + 2 * Math.sqrt((0.05 * 0.95) / BLOCKS);

const LOW_NM = 33_020;
const HIGH_NM = 48_260;

describe("risk of a false verdict under the guarded rule", () => {
  it.each([
    ["two stations, all a nanometre above the upper limit", {}, HIGH_NM + 1],
    ["two stations, all a nanometre below the lower limit", {}, LOW_NM - 1],
    ["four stations, all a nanometre above the upper limit", { places: FOUR_STATIONS }, HIGH_NM + 1],
    ["one station, a nanometre above the upper limit", { places: ONE_STATION }, HIGH_NM + 1],
    ["presses, above", { places: ONE_STATION, ...PRESSES }, HIGH_NM + 1],
    ["presses, below", { places: ONE_STATION, ...PRESSES }, LOW_NM - 1],
    ["presses, sixteen bores, above", { places: ONE_STATION, ...PRESSES, bores: 16 }, HIGH_NM + 1],
    ["presses, sixteen bores, below", { places: ONE_STATION, ...PRESSES, bores: 16 }, LOW_NM - 1],
    ["presses on a fine display, above", { places: ONE_STATION, ...PRESSES, resolutionNm: 100 }, HIGH_NM + 1],
    ["presses on a fine display, below", { places: ONE_STATION, ...PRESSES, resolutionNm: 100 }, LOW_NM - 1],
    ["presses, rough hand, above", { places: ONE_STATION, ...PRESSES, excessNm: 1500 }, HIGH_NM + 1],
    ["presses, careful hand, above", { places: ONE_STATION, ...PRESSES, excessNm: 200 }, HIGH_NM + 1],
    ["presses that only scatter, above", { places: ONE_STATION, ...PRESSES, excessNm: 0, noiseNm: 600 }, HIGH_NM + 1],
    ["presses that only scatter, below", { places: ONE_STATION, ...PRESSES, excessNm: 0, noiseNm: 600 }, LOW_NM - 1],
  ])("at most one in twenty is called fits: %s", (name, change, trueNm) => {
    const random = new Random(7);
    const bench = { ...BENCH, bores: 2, ...change, clearanceLowNm: trueNm, clearanceHighNm: trueNm };
    let bores = 0;
    let fits = 0;
    for (let block = 0; block < BLOCKS; block += 1) {
      for (const bore of findBores(simulateBlock(random, bench).input)) {
        bores += 1;
        if (bore.verdict === "fits") fits += 1;
      }
    }
    console.info(`${name}: ${((100 * fits) / bores).toFixed(2)} % of ${bores} bores called fits`);
    expect(fits / bores).toBeLessThanOrEqual(AT_MOST);
  });

  it.each([LOW_NM, HIGH_NM])(
    "at most one in twenty is called outside: all at the limit of %d nm, included",

    (trueNm) => {
      const random = new Random(8);
      const bench = {
        ...BENCH,
        bores: 2,
        places: ONE_STATION,
        clearanceLowNm: trueNm,
        clearanceHighNm: trueNm,
      };
      let bores = 0;
      let outside = 0;
      for (let block = 0; block < BLOCKS; block += 1) {
        for (const bore of findBores(simulateBlock(random, bench).input)) {
          bores += 1;
          if (bore.verdict === "too loose" || bore.verdict === "too tight") outside += 1;
        }
      }
      console.info(
        `one station at ${trueNm} nm: ${((100 * outside) / bores).toFixed(2)} % of ${bores} bores called outside`,
      );
      expect(outside / bores).toBeLessThanOrEqual(AT_MOST);
    },
  );

  it("of bores on and around the limits: few outside are called fits, and a better gauge leaves fewer undecided", () => {
    const undecided = [
      { name: "coarse", resolutionNm: 2540, noiseNm: 1000 },
      { name: "usual", resolutionNm: 1270, noiseNm: 500 },
      {
        name: "fine, temperatures measured",
        resolutionNm: 127,
        noiseNm: 120,
        driftNm: 200,
        temperaturesMeasured: true,
      },
    ].map(({ name, ...change }) => {
      const random = new Random(11);
      let outside = 0;
      let wrong = 0;
      let open = 0;
      let bores = 0;
      for (let block = 0; block < BLOCKS / 2; block += 1) {
        for (const limitNm of [LOW_NM, HIGH_NM]) {
          const near = { clearanceLowNm: limitNm - 3000, clearanceHighNm: limitNm + 3000 };
          const { input, truth } = simulateBlock(random, {
            ...BENCH,
            bores: 2,
            ...change,
            ...near,
            places: ONE_STATION,
          });
          for (const bore of findBores(input)) {
            bores += 1;
            if (bore.verdict === "undecided") open += 1;
            if (!truth.get(bore.name)?.some((clearance) => clearance < LOW_NM || clearance > HIGH_NM)) continue;
            outside += 1;
            if (bore.verdict === "fits") wrong += 1;
          }
        }
      }
      const percent = (part: number, whole: number) => `${((100 * part) / whole).toFixed(2)} %`;
      console.info(
        `${name}: fits said of ${percent(wrong, outside)} of those outside; undecided ${percent(open, bores)}`,
      );
      expect(wrong / outside).toBeLessThanOrEqual(0.05);
      return open / bores;
    });
    expect(undecided).toEqual([...undecided].sort((a, b) => b - a));
    expect(new Set(undecided).size).toBe(3);
  });

  it("of all bores called fits, far fewer than 5 % are outside", () => {
    const random = new Random(9);
    let fits = 0;
    let wrong = 0;
    for (let block = 0; block < BLOCKS; block += 1) {
      const { input, truth } = simulateBlock(random, BENCH);
      for (const bore of findBores(input)) {
        if (bore.verdict !== "fits") continue;
        fits += 1;
        if (truth.get(bore.name)?.some((clearance) => clearance < LOW_NM || clearance > HIGH_NM)) wrong += 1;
      }
    }
    console.info(`called fits: ${fits} bores, ${((100 * wrong) / fits).toFixed(2)} % of them outside`);
    expect(fits).toBeGreaterThan(1000);
    expect(wrong / fits).toBeLessThanOrEqual(0.05);
  });
});

describe("form holds the truth as often as it says", () => {
  it("taper and out-of-round at 95 %", () => {
    const random = new Random(10);
    let bores = 0;
    let taper = 0;
    let outOfRound = 0;
    for (let block = 0; block < 1000; block += 1) {
      const { input, truth } = simulateBlock(random, { ...BENCH, places: FOUR_STATIONS });
      for (const bore of findBores(input)) {
        const [ua = 0, uc = 0, la = 0, lc = 0] = truth.get(bore.name) ?? [];
        const trueTaper = Math.abs((ua + uc) / 2 - (la + lc) / 2);
        const trueOutOfRound = Math.max(Math.abs(ua - uc), Math.abs(la - lc));
        bores += 1;
        if (Math.abs((bore.taperNm ?? 0) - trueTaper) <= (bore.taperUncertaintyNm ?? 0)) taper += 1;
        if (Math.abs((bore.outOfRoundNm ?? 0) - trueOutOfRound) <= (bore.outOfRoundUncertaintyNm ?? 0)) outOfRound += 1;
      }
    }
    const percent = (count: number) => ((100 * count) / bores).toFixed(2);
    console.info(`taper ${percent(taper)} %, out-of-round ${percent(outOfRound)} % of ${bores} bores`);
    for (const share of [taper / bores, outOfRound / bores]) {
      expect(share).toBeGreaterThanOrEqual(0.93);
      expect(share).toBeLessThanOrEqual(0.97);
    }
  });
});
