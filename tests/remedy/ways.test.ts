import { describe, expect, test } from "vitest";
import { boresInHand } from "../../core/remedy/boresInHand.ts";
import { waysFor } from "../../core/remedy/ways.ts";
import { plainBlock } from "./plainBlock.ts";

const L = 21_384_000;
const input = plainBlock({
  bores: [
    { name: "1I", readings: [41_000, 40_000], lifterNm: L },
    { name: "1E", readings: [25_500, 25_000], lifterNm: L + 500 },
    { name: "2I", readings: [90_000, 90_000], lifterNm: L },
    { name: "2E", readings: [47_500, 47_500], lifterNm: L },
  ],
});
const hands = boresInHand(input).bores;
const hand = (name: string) => {
  const found = hands.find(({ bore }) => bore.name === name);
  if (found === undefined) throw new Error(`no bore ${name}`);
  return found;
};
const ways = (bore: string, lifter: string) =>
  waysFor(hand(bore), lifter, ["hone", "bush"]).map(({ costs, is }) => ({ kind: is.option.kind, costs }));

// Costs: not fitting, undecided, bushes, cut in, metal in µm, fits narrowly, not preferred, twice the deviation, its square, moved.
describe("what a way costs", () => {
  test("left in the preferred band: only its deviation; the square is of twice the deviation", () => {
    expect(ways("1I", "1I")).toEqual([{ kind: "leave", costs: [0, 0, 0, 0, 0, 0, 0, 0, 0, 0] }]);
  });

  test("another lifter: half a micrometre less, and one that moves", () => {
    expect(ways("1I", "1E")).toEqual([{ kind: "pair", costs: [0, 0, 0, 0, 0, 0, 0, 1_000, 1_000_000, 1] }]);
  });

  test("too tight: left open, or honed with its metal in whole micrometres, or bushed", () => {
    const [open, hone, bush] = ways("1E", "1E");
    // 24.5 to 25.0 µm, so 15.75 from the target of 40.5.
    expect(open).toEqual({ kind: "leave", costs: [1, 0, 0, 0, 0, 0, 1, 31_500, 31_500 ** 2, 0] });
    // From 25.0 µm over the reference to the middle at 40.5 over a lifter of 0.5: 16.0 µm.
    expect(hone?.kind).toBe("hone");
    expect(hone?.costs.slice(0, 7)).toEqual([0, 0, 0, 1, 16, 0, 0]);
    expect(hone?.costs[7]).toBeLessThanOrEqual(2);
    expect(bush?.kind).toBe("bush");
    expect(bush?.costs.slice(0, 7)).toEqual([0, 0, 1, 1, 0, 0, 0]);
  });

  test("too loose: no hone", () => {
    expect(ways("2I", "2I").map(({ kind }) => kind)).toEqual(["leave", "bush"]);
  });

  test("undecided: counted apart, and never bushed", () => {
    const [open, ...others] = ways("2E", "2E");
    expect(open?.costs.slice(0, 3)).toEqual([0, 1, 0]);
    expect(others).toEqual([]);
  });

  test("a bore that fits is not bushed for a lifter that does not suit it", () => {
    const far = plainBlock({
      bores: [
        { name: "1I", readings: [40_500, 40_500], lifterNm: L },
        { name: "1E", readings: [40_500, 40_500], lifterNm: L - 20_000 },
      ],
    });
    const [first] = boresInHand(far).bores;
    if (first === undefined) throw new Error("no bore");
    expect(waysFor(first, "1E", ["hone", "bush"]).map(({ is }) => is.option.kind)).toEqual(["pair"]);
  });
});
