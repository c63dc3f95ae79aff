import { describe, expect, it } from "vitest";
import type { Layout } from "../../core/block/layout.ts";
import { LAYOUTS, layoutById } from "../../core/block/layouts.ts";
import { LayoutError } from "../../core/block/parseLayout.ts";
import { spokenBore } from "../../core/block/spokenBore.ts";
import { walkOrder } from "../../core/block/walkOrder.ts";

const ascending = (list: readonly number[]) => [...list].sort((a, b) => a - b);
const patternOf = (layout: Layout, bank: number) =>
  layout.bores
    .filter((bore) => bore.bank === bank)
    .map((bore) => bore.valve)
    .join("");

describe.each(LAYOUTS.map((layout) => [layout.id, layout] as const))("layout %s", (_, layout) => {
  const cylinders = layout.banks.flatMap((bank) => bank.cylinders);

  it("has cylinders 1 to n and two lifter bores to each, named once", () => {
    expect(ascending(cylinders)).toEqual(cylinders.map((__, index) => index + 1));
    expect(layout.bores.map((bore) => bore.name).sort()).toEqual(
      cylinders.flatMap((cylinder) => [`${cylinder}I`, `${cylinder}E`]).sort(),
    );
    for (const bore of layout.bores) expect(bore.name).toBe(`${bore.cylinder}${bore.valve}`);
  });

  it("fires every cylinder once, beginning with the first", () => {
    expect(ascending(layout.firingOrder)).toEqual(ascending(cylinders));
    expect(layout.firingOrder[0]).toBe(1);
  });

  it("lists each bank front to rear, the bores beside their own cylinders", () => {
    for (const [index, bank] of layout.banks.entries()) {
      const own = layout.bores.filter((bore) => bore.bank === index);
      expect(own.map((bore) => bore.along)).toEqual(own.map((__, along) => along));
      expect(own.map((bore) => bore.cylinder)).toEqual(bank.cylinders.flatMap((cylinder) => [cylinder, cylinder]));
      for (const [at, bore] of own.slice(1).entries()) expect(bore.y).toBeGreaterThan(own[at]?.y ?? Infinity);
    }
    expect(layout.bores.map((bore) => bore.bank)).toEqual(ascending(layout.bores.map((bore) => bore.bank)));
  });

  it("places every bore by itself, inside the block, its bank on its side", () => {
    expect(new Set(layout.bores.map(({ x, y }) => `${x} ${y}`)).size).toBe(layout.bores.length);
    for (const { x, y, bank } of layout.bores) {
      expect(Math.abs(x)).toBeLessThanOrEqual(1);
      expect(y).toBeGreaterThanOrEqual(0);
      expect(y).toBeLessThanOrEqual(1);
      expect(Math.sign(x)).toBe(layout.banks.length === 1 ? 0 : bank === 0 ? -1 : 1);
    }
  });

  it("sets the bank of the first cylinder ahead of the other, by less than a bore's pitch", () => {
    if (layout.banks.length === 1) return;
    const frontOf = (bank: number) =>
      layout.bores.find((bore) => bore.bank === bank && bore.along === 0)?.y ?? Number.NaN;
    const leading = layout.bores.find((bore) => bore.cylinder === 1)?.bank ?? Number.NaN;
    const behind = frontOf(1 - leading) - frontOf(leading);
    const pitch = (layout.bores[1]?.y ?? 0) - (layout.bores[0]?.y ?? 0);
    expect(behind).toBeGreaterThan(0);
    expect(behind).toBeLessThan(pitch);
  });

  it("is walked completely either way", () => {
    const names = layout.bores.map((bore) => bore.name);
    expect(walkOrder(layout, "bank")).toEqual(names);
    const firing = walkOrder(layout, "firing");
    expect([...firing].sort()).toEqual([...names].sort());
    expect(firing).toEqual(layout.firingOrder.flatMap((cylinder) => [`${cylinder}I`, `${cylinder}E`]));
  });

  it("has a plain id and can be had by it", () => {
    expect(layout.id).toMatch(/^[iv]\d(-[a-z0-9]+)*$/);
    expect(layoutById(layout.id)).toBe(layout);
  });

  it("has every bore in words", () => {
    for (const { name, cylinder, valve } of layout.bores) {
      expect(spokenBore(name)).toBe(`Cylinder ${cylinder}, ${valve === "I" ? "intake" : "exhaust"}`);
    }
  });
});

describe("the built-in layouts", () => {
  it("each have an id of their own, the default first", () => {
    expect(new Set(LAYOUTS.map(({ id }) => id)).size).toBe(LAYOUTS.length);
    expect(new Set(LAYOUTS.map(({ title }) => title)).size).toBe(LAYOUTS.length);
    expect(LAYOUTS[0]?.id).toBe("v8-alternate");
  });

  it("the default: odd cylinders left, even right, exhausts at the ends of both banks", () => {
    const layout = layoutById("v8-alternate");
    expect(layout.banks.map((bank) => bank.cylinders)).toEqual([
      [1, 3, 5, 7],
      [2, 4, 6, 8],
    ]);
    expect([patternOf(layout, 0), patternOf(layout, 1)]).toEqual(["EIIEEIIE", "EIIEEIIE"]);
    expect(walkOrder(layout, "bank").slice(0, 4)).toEqual(["1E", "1I", "3I", "3E"]);
    expect(walkOrder(layout, "firing").slice(0, 4)).toEqual(["1I", "1E", "8I", "8E"]);
  });

  it("have both numberings, both valve patterns and more than one firing order for the V8", () => {
    const eights = LAYOUTS.filter((layout) => layout.bores.length === 16);
    expect(new Set(eights.map(({ firingOrder }) => firingOrder.join())).size).toBeGreaterThanOrEqual(4);
    for (const first of ["1,3,5,7", "5,6,7,8"]) {
      const own = eights.filter(({ banks }) => banks[0]?.cylinders.join() === first);
      const patterns = new Set(own.map((layout) => patternOf(layout, 1)));
      expect(patterns).toContain("EIIEEIIE");
      expect(patterns).toContain("IEIEIEIE");
    }
    for (const count of [8, 12]) expect(LAYOUTS.some((layout) => layout.bores.length === count)).toBe(true);
  });

  it("an unknown id is refused with those there are", () => {
    expect(() => layoutById("v9")).toThrow(LayoutError);
    expect(() => layoutById("v9")).toThrow(/found "v9".*v8-alternate/);
  });
});
