import { describe, expect, it } from "vitest";
import { differencesOf, differenceText } from "../../electron/host/parcel/compareRecorded.ts";

const paths = (recorded: unknown, now: unknown) => differencesOf(recorded, now).map(({ path }) => path);

describe("a recorded value beside what it is now", () => {
  it("must be the same to the last nanometre when it is whole, however large", () => {
    expect(paths({ lengthNm: 21_400_000 }, { lengthNm: 21_400_000 })).toEqual([]);
    expect(paths({ lengthNm: 21_400_001 }, { lengthNm: 21_400_000 })).toEqual(["lengthNm"]);
    expect(paths({ sum: 1e15 + 1 }, { sum: 1e15 })).toEqual(["sum"]);
  });

  it("may differ in its last digits when it is not whole", () => {
    expect(paths({ share: 0.25 + 1e-12 }, { share: 0.25 })).toEqual([]);
    expect(paths({ share: 1 - 1e-12 }, { share: 1 })).toEqual([]);
    expect(paths({ u: 1234.5 * (1 + 5e-10) }, { u: 1234.5 })).toEqual([]);
    expect(paths({ share: 0.25 + 1e-6 }, { share: 0.25 })).toEqual(["share"]);
    expect(paths({ u: 1234.5 * (1 + 1e-6) }, { u: 1234.5 })).toEqual(["u"]);
  });

  it("is missed when it is not there, and seen when it is too much", () => {
    expect(paths({ a: 1 }, { a: 1, b: null })).toEqual(["b"]);
    expect(paths({ a: 1, b: undefined }, { a: 1 })).toEqual(["b"]);
    expect(paths([1, 2], [1, 2, 3])).toEqual([""]);
    expect(paths({ a: [] }, { a: {} })).toEqual(["a"]);
    expect(paths({ a: null }, { a: 0 })).toEqual(["a"]);
    expect(paths({ a: "1" }, { a: 1 })).toEqual(["a"]);
  });

  it("is told of with its place in words", () => {
    const now = {
      bores: [{ name: "1I", stations: [{ height: "upper", clock: "axial", valueNm: 1 }] }],
      zeros: [{ t: 5 }],
    };
    const recorded = JSON.parse(JSON.stringify(now).replace('"valueNm":1', '"valueNm":2').replace('"t":5', '"t":6'));
    const told = differencesOf(recorded, now).map(differenceText);
    expect(told).toEqual([
      "bores, 1I, stations, upper axial, valueNm: 2 there, 1 by the raw lines",
      "zeros, no. 1, t: 6 there, 5 by the raw lines",
    ]);
    expect(differenceText({ path: "", recorded: undefined, now: "x".repeat(100) })).toMatch(
      /^the whole: nothing there, "x{56}\.\.\. by/,
    );
  });
});
