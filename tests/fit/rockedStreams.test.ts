import { describe, expect, it } from "vitest";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { findBores } from "../../core/fit/findBores.ts";
import type { MeasuredStation } from "../../core/fit/finding.ts";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { median } from "../../core/sweep/median.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { turningPoints } from "../../core/sweep/turningPoint.ts";
import { judgeReferences } from "../../core/zero/judgeReferences.ts";
import { anyRocking, Chance, type Rocking } from "../sweep/rocking.ts";
import { passesOf } from "../sweep/stationError.ts";
import { exampleInput } from "./exampleInput.ts";

const HEIGHTS = ["upper", "lower"];
/** A block's stations err together, so a share near 95 % of so many blocks is known to ±1.1 %. */
const BLOCKS = 400;

/** A station as the sweep room makes it of a rocked stream whose true smallest reading is `squareNm`. */
function rocked(hand: Rocking, chance: Chance, squareNm: number, tMs: number, count: number) {
  const passes = passesOf({ ...hand, squareNm }, chance, count);
  const points = turningPoints(passes, hand.resolutionNm as Nm);
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

describe("stated intervals on streams that were rocked, cut and fitted", () => {
  it.each([
    [10, 3],
    [10, 7],
    [20, 3],
  ])(
    "%d readings a second, %d sweeps: 93 to 97 in a hundred hold the truth",

    (perSecond, count) => {
      const chance = new Chance(perSecond + count);
      const within = (halfWidth: number) => chance.between(-halfWidth, halfWidth);
      let stations = 0;
      let covered = 0;
      let errorSquares = 0;
      let expandedSum = 0;
      for (let block = 0; block < BLOCKS; block += 1) {
        const hand = anyRocking(chance, perSecond, "turns", "stamp");
        const common = BUDGET_DEFAULTS.transferNm * chance.normal() + within(BUDGET_DEFAULTS.indicatorNm);
        const truths: number[] = [];
        const measured: MeasuredStation[] = ["1I", "1E"].flatMap((bore, at) =>
          HEIGHTS.map((height, index) => {
            const truth = Math.round(chance.between(30_000, 52_000));
            truths.push(truth);
            const seen = truth + common - chance.between(0, BUDGET_DEFAULTS.centringNm);
            const tMs = 20_000 + (2 * at + index) * 10_000;
            return { bore, place: { height, clock: "axial" as const }, ...rocked(hand, chance, seen, tMs, count) };
          }),
        );
        const zero = { ...rocked(hand, chance, 0, 10_000, count), kind: "zero" as const, lifter: null };
        const back = { ...rocked(hand, chance, 0, 60_000, count), kind: "return" as const, lifter: null };
        const found = findBores(
          exampleInput({
            stations: measured,
            references: judgeReferences([zero, back], toNm(1e6)),
            resolutionNm: hand.resolutionNm as Nm,
          }),
        );
        found
          .flatMap((bore) => bore.stations)
          .forEach((station, at) => {
            const error = (station.clearanceNm ?? Number.NaN) - (truths[at] ?? Number.NaN);
            stations += 1;
            if (Math.abs(error) <= (station.uncertaintyNm ?? 0)) covered += 1;
            errorSquares += error ** 2;
            expandedSum += station.uncertaintyNm ?? 0;
          });
      }
      console.info(
        `${perSecond} readings a second, ${count} sweeps: ${((100 * covered) / stations).toFixed(2)} % of ${stations} stations; ` +
          `rms error ${Math.sqrt(errorSquares / stations).toFixed(0)} nm, mean U ${(expandedSum / stations).toFixed(0)} nm`,
      );
      expect(covered / stations).toBeGreaterThanOrEqual(0.93 - 0.011);
      expect(covered / stations).toBeLessThanOrEqual(0.97 + 0.011);
    },
  );
});
