import { describe, expect, it } from "vitest";
import type { Clock } from "../../core/block/layout.ts";
import { BUDGET_DEFAULTS } from "../../core/fit/budgetDefaults.ts";
import { type FormStation, outOfRoundOf, taperOf } from "../../core/fit/form.ts";
import { coverageFactor } from "../../core/fit/gum.ts";

const EXACT = Number.POSITIVE_INFINITY;
/** An off-centre gauge is short by 0 … 0.5 µm; between two stations the mean of that cancels. */
const CENTRING = 500 / Math.sqrt(12);

function station(
  height: string,
  clock: Clock,
  clearanceNm: number,
  { u = 100, degreesOfFreedom = EXACT, resolution = 50 } = {},
): FormStation {
  return { place: { height, clock }, clearanceNm, repeatability: { u, degreesOfFreedom }, resolution };
}

const taper = (stations: readonly FormStation[]) => taperOf(stations, BUDGET_DEFAULTS);
const outOfRound = (stations: readonly FormStation[]) => outOfRoundOf(stations, BUDGET_DEFAULTS);

describe("taper", () => {
  it("of two heights measured one way is their difference, either way up", () => {
    const [upper, lower] = [station("upper", "axial", 40_000), station("lower", "axial", 41_500)];
    expect(taper([upper, lower])?.value).toBe(1500);
    expect(taper([lower, upper])?.value).toBe(1500);
    expect(taper([upper])).toBeNull();
    expect(taper([])).toBeNull();
  });

  it("of three heights is the range over them, wherever the middle one lies", () => {
    const three = [
      station("upper", "axial", 40_000),
      station("middle", "axial", 42_000),
      station("lower", "axial", 41_000),
    ];
    expect(taper(three)?.value).toBe(2000);
  });

  it("compares means over the clock directions", () => {
    const four = [
      station("upper", "axial", 40_000),
      station("upper", "cross", 41_000),
      station("lower", "axial", 42_000),
      station("lower", "cross", 45_000),
    ];
    expect(taper(four)?.value).toBe(3000);
  });

  it("compares no height along the crank with one across it", () => {
    const two = [station("upper", "axial", 40_000), station("lower", "cross", 44_000)];
    expect(taper(two)).toBeNull();
    expect(taper([...two, station("deep", "cross", 44_500)])?.value).toBe(500);
  });

  it("leaves out a height measured in fewer directions, for an oval bore would pass for a tapered one", () => {
    const three = [
      station("upper", "axial", 40_000),
      station("upper", "cross", 41_000),
      station("lower", "axial", 42_000),
    ];
    expect(taper(three)).toBeNull();
    const five = [...three, station("deep", "axial", 44_000), station("deep", "cross", 45_000)];
    expect(taper(five)?.value).toBe(4000);
  });

  it("is as uncertain as what its two ends do not share: repeatability, rounding, centring", () => {
    const found = taper([station("upper", "axial", 40_000), station("lower", "axial", 41_500)]);
    const one = Math.hypot(100, 50, CENTRING);
    expect(found?.expanded).toBeCloseTo(coverageFactor(0.95, EXACT) * Math.SQRT2 * one, 6);
  });

  it("of means over two directions is known √2 better", () => {
    const two = taper([station("upper", "axial", 40_000), station("lower", "axial", 41_500)]);
    const four = taper(
      ["upper", "lower"].flatMap((height) => [station(height, "axial", 40_000), station(height, "cross", 40_000)]),
    );
    expect((two?.expanded ?? 0) / (four?.expanded ?? 1)).toBeCloseTo(Math.SQRT2, 9);
  });

  it("counts each end with its own repeatability and rounding", () => {
    const found = taper([
      station("upper", "axial", 40_000, { u: 300, resolution: 0 }),
      station("lower", "axial", 41_500, { u: 400, resolution: 120 }),
    ]);
    const u = Math.hypot(300, 400, 120, Math.SQRT2 * CENTRING);
    expect(found?.expanded).toBeCloseTo(coverageFactor(0.95, EXACT) * u, 6);
  });

  it("is no better known than the worse known of its ends", () => {
    const ends = (upper: number, lower: number) =>
      taper([
        station("upper", "axial", 40_000, { u: 1000, degreesOfFreedom: upper }),
        station("lower", "axial", 41_500, { u: 1000, degreesOfFreedom: lower }),
      ])?.expanded;
    expect(ends(6, 60)).toBe(ends(6, 6));
    expect(ends(60, 6)).toBe(ends(6, 6));
  });

  it("rests on the pooled scatter of the session, whose degrees of freedom count once", () => {
    const few = { u: 1000, degreesOfFreedom: 6, resolution: 0 };
    const found = taper([station("upper", "axial", 40_000, few), station("lower", "axial", 41_500, few)]);
    const u = Math.hypot(Math.SQRT2 * 1000, Math.SQRT2 * CENTRING);
    const effective = u ** 4 / ((Math.SQRT2 * 1000) ** 4 / 6);
    expect(found?.expanded).toBeCloseTo(coverageFactor(0.95, effective) * u, 6);
  });
});

describe("out-of-round", () => {
  it("is the range over the clock directions at a height, the largest of the heights", () => {
    const round = [station("upper", "axial", 40_000), station("upper", "cross", 40_400)];
    const oval = [station("lower", "axial", 43_000), station("lower", "cross", 41_500)];
    expect(outOfRound([...round, ...oval])?.value).toBe(1500);
    expect(outOfRound([...oval, ...round])?.value).toBe(1500);
    expect(outOfRound(round)?.value).toBe(400);
  });

  it("is not seen from one direction only, and a height measured one way says nothing", () => {
    expect(outOfRound([station("upper", "axial", 40_000), station("lower", "axial", 44_000)])).toBeNull();
    expect(outOfRound([])).toBeNull();
    const some = [
      station("upper", "axial", 40_000),
      station("lower", "axial", 43_000),
      station("lower", "cross", 43_200),
    ];
    expect(outOfRound(some)?.value).toBe(200);
  });

  it("of a height that is perfectly round is none, not unknown", () => {
    expect(outOfRound([station("upper", "axial", 40_000), station("upper", "cross", 40_000)])?.value).toBe(0);
  });
});
