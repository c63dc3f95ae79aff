import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { FitInput, MeasuredStation } from "../../core/fit/finding.ts";
import { bySmallestReading } from "../../core/fit/smallestReading.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { median } from "../../core/sweep/median.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { judgeReferences } from "../../core/zero/judgeReferences.ts";
import { anyRocking, Chance, type Rocking } from "../sweep/rocking.ts";
import { passesOf } from "../sweep/stationError.ts";
import { exampleInput } from "./exampleInput.ts";

const HOLD = toNm(1e6);

/** A place as the sweep room makes it of a rocked stream whose true smallest reading is `squareNm`. */
function rocked(hand: Rocking, chance: Chance, squareNm: number, tMs: number) {
  const points = turningPoints(passesOf({ ...hand, squareNm }, chance, 3), hand.resolutionNm as Nm);
  const sweeps = points.map(
    (point): Sweep => ({
      tMs,
      rawMinNm: point.rawMinNm,
      turningPointNm: toNm(point.turningPointNm),
      samples: 6,
      method: point.method,
      use: "kept",
    }),
  );
  return { tMs, valueNm: toNm(median(points.map((point) => point.turningPointNm))), spreadNm: toNm(0), sweeps };
}

/** Two bores measured by somebody's hand at 10 readings a second, and their true clearances, nm. */
function block(chance: Chance): { readonly input: FitInput; readonly truths: readonly number[] } {
  const hand = anyRocking(chance, 10, "turns", "stamp");
  const within = (halfWidth: number) => chance.between(-halfWidth, halfWidth);
  const common = BUDGET_DEFAULTS.transferNm * chance.normal() + within(BUDGET_DEFAULTS.indicatorNm);
  const truths: number[] = [];
  const stations: MeasuredStation[] = ["1I", "1E"].flatMap((bore, at) =>
    ["upper", "lower"].map((height, index) => {
      const truth = Math.round(chance.between(30_000, 52_000));
      truths.push(truth);
      const seen = truth + common - chance.between(0, BUDGET_DEFAULTS.centringNm);
      const tMs = 20_000 + (2 * at + index) * 10_000;
      return { bore, place: { height, clock: "axial" as const }, ...rocked(hand, chance, seen, tMs) };
    }),
  );
  const zero = { ...rocked(hand, chance, 0, 10_000), kind: "zero" as const, lifter: null };
  const back = { ...rocked(hand, chance, 0, 60_000), kind: "return" as const, lifter: null };
  const references = judgeReferences([zero, back], HOLD);
  return { input: exampleInput({ stations, references, resolutionNm: hand.resolutionNm as Nm }), truths };
}

function coverage(change: (input: FitInput) => FitInput) {
  const chance = new Chance(64);
  let stations = 0;
  let covered = 0;
  let squares = 0;
  for (let count = 0; count < 60; count += 1) {
    const { input, truths } = block(chance);
    for (const [index, found] of findBores(change(input))
      .flatMap((bore) => bore.stations)
      .entries()) {
      const error = (found.clearanceNm ?? Number.NaN) - (truths[index] ?? Number.NaN);
      stations += 1;
      squares += error ** 2;
      if (Math.abs(error) <= (found.uncertaintyNm ?? 0)) covered += 1;
    }
  }
  return { share: covered / stations, rmsNm: Math.sqrt(squares / stations) };
}

describe("the smallest reading in place of the turning point", () => {
  it("takes the same sweeps by what they read at the least, and judges the zeros anew", () => {
    const { input } = block(new Chance(1));
    const other = bySmallestReading(input, HOLD);
    for (const [index, station] of other.stations.entries()) {
      const before = input.stations[index] as MeasuredStation;
      expect(station.valueNm).toBe(Math.round(median(before.sweeps.map(({ rawMinNm }) => rawMinNm))));
      expect(station.sweeps.map(({ use }) => use)).toEqual(before.sweeps.map(({ use }) => use));
    }
    const [zero, back] = other.references;
    expect(back?.returnNm).toBe((back?.valueNm as number) - (zero?.valueNm as number));
    expect(bySmallestReading(input, toNm(0)).references[1]?.held).toBe(back?.returnNm === 0);
  });

  it("leaves presses and held minima as they are, which are single readings", () => {
    const { input } = block(new Chance(2));
    for (const sends of ["press", "held"] as const) {
      expect(bySmallestReading({ ...input, sends }, HOLD)).toEqual({ ...input, sends });
    }
  });

  it("states two lines of the budget for what the samples missed, and they are none when nothing was missed", () => {
    const { input } = block(new Chance(3));
    const lines = (of: FitInput) => findBores(of)[0]?.stations[0]?.budget.map(({ name }) => name) ?? [];
    const added = lines(bySmallestReading(input, HOLD)).filter((name) => !lines(input).includes(name));
    expect(added).toEqual([
      "smallest reading against the turning point, at the bore",
      "smallest reading against the turning point, at the zero",
    ]);
    const exact = (sweeps: readonly Sweep[]) => sweeps.map((sweep) => ({ ...sweep, rawMinNm: sweep.turningPointNm }));
    const same = {
      ...input,
      stations: input.stations.map((station) => ({ ...station, sweeps: exact(station.sweeps) })),
      references: input.references.map((reference) => ({ ...reference, sweeps: exact(reference.sweeps) })),
    };
    expect(bySmallestReading(same, HOLD).sampling).toEqual({ boreNm: 0, zeroNm: 0 });
  });

  it("is worse than the turning point, and its stated intervals still hold the truth", () => {
    const turning = coverage((input) => input);
    const smallest = coverage((input) => bySmallestReading(input, HOLD));
    const unstated = coverage((input) => {
      const { sampling: _, ...rest } = bySmallestReading(input, HOLD);
      return rest;
    });
    console.info("turning point, smallest reading, the same without its two lines:", turning, smallest, unstated);
    expect(smallest.rmsNm).toBeGreaterThan(turning.rmsNm);
    expect(smallest.share).toBeGreaterThanOrEqual(0.93);
    expect(smallest.share).toBeGreaterThan(unstated.share);
  });
});
