import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LAYOUTS } from "../../core/block/layouts.ts";
import { LayoutError, parseLayout } from "../../core/block/parseLayout.ts";
import { spokenBore, spokenPlace } from "../../core/block/spokenBore.ts";
import { walkOrder } from "../../core/block/walkOrder.ts";

const THREE = {
  id: "three",
  title: "Inline three",
  firingOrder: [1, 3, 2],
  banks: [{ name: "only", cylinders: [1, 2, 3], bores: ["I", "E", "I", "E", "E", "I"] }],
};

/** What `run` refuses: the path and the message. */
function refusal(run: () => unknown): { path: string; message: string } {
  try {
    run();
  } catch (error) {
    if (error instanceof LayoutError) return { path: error.path, message: error.message };
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("parseLayout", () => {
  it("reads a layout written out", () => {
    const layout = parseLayout(THREE);
    expect(layout).toMatchObject({ id: "three", title: "Inline three", firingOrder: [1, 3, 2] });
    expect(layout.banks).toEqual([{ name: "only", cylinders: [1, 2, 3] }]);
    expect(layout.bores.map((bore) => bore.name)).toEqual(["1I", "1E", "2I", "2E", "3E", "3I"]);
    expect(walkOrder(layout, "firing")).toEqual(["1I", "1E", "3I", "3E", "2I", "2E"]);
  });

  it("names several bores of one kind from the front", () => {
    const layout = parseLayout({
      firingOrder: [1, 2],
      banks: [{ name: "only", cylinders: [1, 2], bores: [..."IEIEIIEE"] }],
    });
    expect(layout.bores.map((bore) => bore.name)).toEqual(["1I1", "1E1", "1I2", "1E2", "2I1", "2I2", "2E1", "2E2"]);
    expect(walkOrder(layout, "firing").slice(0, 4)).toEqual(["1I1", "1I2", "1E1", "1E2"]);
    expect(spokenBore("2E1")).toBe("Cylinder 2, exhaust 1");
  });

  it("any built-in layout written out is the same layout", () => {
    for (const layout of LAYOUTS) {
      const written = {
        id: layout.id,
        title: layout.title,
        firingOrder: layout.firingOrder,
        banks: layout.banks.map((bank, index) => ({
          ...bank,
          bores: layout.bores.filter((bore) => bore.bank === index).map((bore) => bore.valve),
        })),
      };
      expect(parseLayout(JSON.parse(JSON.stringify(written)))).toEqual(layout);
    }
  });

  it("any sensible layout up to 16 cylinders: names and places unique, walks complete", () => {
    const plan = fc
      .record({
        count: fc.integer({ min: 1, max: 16 }),
        split: fc.nat(16),
        kinds: fc.constantFrom("IE", "EI", "IIE", "IEIE", "IIEE", "EIIE"),
      })
      .chain(({ count, split, kinds }) =>
        fc
          .tuple(
            fc.shuffledSubarray(
              Array.from({ length: count }, (_, index) => index + 1),
              { minLength: count },
            ),
            fc.shuffledSubarray(
              Array.from({ length: count }, (_, index) => index + 1),
              { minLength: count },
            ),
          )
          .map(([cylinders, firingOrder]) => ({
            firingOrder,
            banks: [cylinders.slice(0, split), cylinders.slice(split)]
              .filter((own) => own.length > 0)
              .map((own, index) => ({ name: `bank ${index}`, cylinders: own, bores: own.flatMap(() => [...kinds]) })),
          })),
      );
    fc.assert(
      fc.property(plan, (json) => {
        const layout = parseLayout(json);
        const names = layout.bores.map((bore) => bore.name);
        expect(new Set(names).size).toBe(names.length);
        expect(new Set(layout.bores.map(({ x, y }) => `${x} ${y}`)).size).toBe(names.length);
        for (const { y } of layout.bores) expect(y >= 0 && y <= 1).toBe(true);
        expect([...walkOrder(layout, "firing")].sort()).toEqual([...names].sort());
        expect(walkOrder(layout, names)).toEqual(names);
      }),
      { seed: 6101, numRuns: 300 },
    );
  });

  const bank = THREE.banks[0];
  it.each<[string, unknown, string, RegExp]>([
    ["no object", 7, "layout", /expected object/],
    ["no banks", { ...THREE, banks: undefined }, "layout.banks", /expected array/],
    ["an empty bank", { ...THREE, banks: [{ ...bank, cylinders: [] }] }, "layout.banks[0].cylinders", /1/],
    ["a field too many", { ...THREE, angle: 90 }, "layout.angle", /unknown field/],
    [
      "a field too many in a bank",
      { ...THREE, banks: [{ ...bank, side: 1 }] },
      "layout.banks[0].side",
      /unknown field/,
    ],
    [
      "a firing order too short",
      { ...THREE, firingOrder: [1, 2] },
      "layout.firingOrder",
      /found 1, 2; expected.*1, 2, 3/,
    ],
    ["a cylinder fired twice", { ...THREE, firingOrder: [1, 2, 2] }, "layout.firingOrder", /once/],
    ["cylinder half", { ...THREE, firingOrder: [1, 2, 2.5] }, "layout.firingOrder[2]", /int/],
    [
      "a cylinder twice",
      { ...THREE, banks: [{ ...bank, cylinders: [1, 2, 2] }] },
      "layout.banks[0].cylinders[2]",
      /twice/,
    ],
    [
      "a cylinder in both banks",
      { ...THREE, banks: [bank, { name: "other", cylinders: [3], bores: ["I", "E"] }] },
      "layout.banks[1].cylinders[0]",
      /found cylinder 3 twice/,
    ],
    [
      "two banks of one name",
      { ...THREE, banks: [bank, { name: "only", cylinders: [4], bores: ["I", "E"] }] },
      "layout.banks[1].name",
      /twice/,
    ],
    [
      "a bore too few",
      { ...THREE, banks: [{ ...bank, bores: [..."IEIEI"] }] },
      "layout.banks[0].bores",
      /found 5 bores for 3 cylinders/,
    ],
    [
      "a cylinder without exhaust",
      { ...THREE, banks: [{ ...bank, bores: [..."IEIIEI"] }] },
      "layout.banks[0].bores[2]",
      /cylinder 2.*one E/,
    ],
    [
      "a valve of another kind",
      { ...THREE, banks: [{ ...bank, bores: [..."IEIEIX"] }] },
      "layout.banks[0].bores[5]",
      /"I"\|"E"/,
    ],
    [
      "three banks",
      { ...THREE, banks: [1, 2, 3].map((n) => ({ name: `${n}`, cylinders: [n], bores: ["I", "E"] })) },
      "layout.banks",
      /2/,
    ],
  ])("refuses %s", (_, json, path, message) => {
    expect(refusal(() => parseLayout(json))).toEqual({ path, message: expect.stringMatching(message) });
  });
});

describe("walkOrder of a list", () => {
  const layout = parseLayout(THREE);

  it("keeps the list as given, also a part of the block", () => {
    expect(walkOrder(layout, ["3I", "1E"])).toEqual(["3I", "1E"]);
  });

  it.each<[string[], string, RegExp]>([
    [["1I", "1E", "2I", "4I"], "walk[3]", /no bore "4I"; it has 1I, 1E/],
    [["1I", "1E", "2I", "1I"], "walk[3]", /"1I" is there twice/],
    [["1i"], "walk[0]", /no bore "1i"/],
    [[], "walk", /at least one bore/],
  ])("refuses %j", (walk, path, message) => {
    expect(refusal(() => walkOrder(layout, walk))).toEqual({ path, message: expect.stringMatching(message) });
  });
});

describe("a place aloud", () => {
  it("says height and direction", () => {
    expect(spokenPlace({ height: "upper", clock: "axial" })).toBe("Upper. Along the crank.");
    expect(spokenPlace({ height: "lower", clock: "cross" })).toBe("Lower. Across the crank.");
  });

  it("leaves a name that is no bore's as it is", () => {
    expect(spokenBore("reference")).toBe("reference");
  });
});
