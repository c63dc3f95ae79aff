import type { Layout, Valve } from "./layout.ts";
import { buildLayout, LayoutError, type LayoutPlan } from "./parseLayout.ts";

const valves = (text: string): Valve[] => [...text].map((letter) => (letter === "I" ? "I" : "E"));

/** Exhausts at the ends and beside each other, intakes in pairs: a mirrored head. */
const MIRRORED_4 = valves("EIIEEIIE");
const MIRRORED_3 = valves("EIIEEI");
/** Intake and exhaust by turns from front to rear. */
const TURNS_4 = valves("IEIEIEIE");
const TURNS_3 = valves("IEIEIE");

const v = (
  id: string,
  title: string,
  firingOrder: readonly number[],
  left: readonly number[],
  right: readonly number[],
  bores: readonly [readonly Valve[], readonly Valve[]],
): LayoutPlan => ({
  id,
  title,
  firingOrder,
  banks: [
    { name: "left", cylinders: left, bores: bores[0] },
    { name: "right", cylinders: right, bores: bores[1] },
  ],
});

const inline = (id: string, title: string, firingOrder: readonly number[], bores: readonly Valve[]): LayoutPlan => ({
  id,
  title,
  firingOrder,
  banks: [{ name: "only", cylinders: firingOrder.map((_, index) => index + 1), bores }],
});

const rear = (pattern: readonly Valve[]): Valve[] => [...pattern].reverse();
const ODD_4 = [1, 3, 5, 7];
const EVEN_4 = [2, 4, 6, 8];
const FRONT_4 = [1, 2, 3, 4];
const REAR_4 = [5, 6, 7, 8];

/** The built-in arrangements. Numbering, valve patterns and firing orders: common practice, no source. */
const PLANS: readonly LayoutPlan[] = [
  v(
    "v8-alternate",
    "V8, odd cylinders left, even right; exhausts at the ends",
    [1, 8, 4, 3, 6, 5, 7, 2],
    ODD_4,
    EVEN_4,
    [MIRRORED_4, MIRRORED_4],
  ),
  v(
    "v8-alternate-1-8-7-2",
    "V8, odd cylinders left, even right; exhausts at the ends; other firing order",
    [1, 8, 7, 2, 6, 5, 4, 3],
    ODD_4,
    EVEN_4,
    [MIRRORED_4, MIRRORED_4],
  ),
  v(
    "v8-alternate-turns",
    "V8, odd cylinders left, even right; valves by turns",
    [1, 8, 4, 3, 6, 5, 7, 2],
    ODD_4,
    EVEN_4,
    [rear(TURNS_4), TURNS_4],
  ),
  v("v8-by-bank", "V8, 1 to 4 right, 5 to 8 left; valves by turns", [1, 5, 4, 2, 6, 3, 7, 8], REAR_4, FRONT_4, [
    rear(TURNS_4),
    TURNS_4,
  ]),
  v(
    "v8-by-bank-1-3-7-2",
    "V8, 1 to 4 right, 5 to 8 left; valves by turns; other firing order",
    [1, 3, 7, 2, 6, 5, 4, 8],
    REAR_4,
    FRONT_4,
    [rear(TURNS_4), TURNS_4],
  ),
  v(
    "v8-by-bank-mirrored",
    "V8, 1 to 4 right, 5 to 8 left; exhausts at the ends",
    [1, 5, 4, 2, 6, 3, 7, 8],
    REAR_4,
    FRONT_4,
    [MIRRORED_4, MIRRORED_4],
  ),
  v(
    "v6-alternate",
    "V6, odd cylinders left, even right; valves by turns",
    [1, 6, 5, 4, 3, 2],
    [1, 3, 5],
    [2, 4, 6],
    [rear(TURNS_3), TURNS_3],
  ),
  v(
    "v6-alternate-mirrored",
    "V6, odd cylinders left, even right; mirrored",
    [1, 2, 3, 4, 5, 6],
    [1, 3, 5],
    [2, 4, 6],
    [MIRRORED_3, rear(MIRRORED_3)],
  ),
  v(
    "v6-by-bank",
    "V6, 1 to 3 right, 4 to 6 left; valves by turns",
    [1, 4, 2, 5, 3, 6],
    [4, 5, 6],
    [1, 2, 3],
    [rear(TURNS_3), TURNS_3],
  ),
  inline("i4", "Inline four, exhausts at the ends", [1, 3, 4, 2], MIRRORED_4),
  inline("i4-1-2-4-3", "Inline four, exhausts at the ends; other firing order", [1, 2, 4, 3], MIRRORED_4),
  inline("i4-turns", "Inline four, valves by turns", [1, 3, 4, 2], TURNS_4),
  inline("i6", "Inline six, exhausts at the ends", [1, 5, 3, 6, 2, 4], valves("EIIEEIIEEIIE")),
  inline("i6-turns", "Inline six, valves by turns", [1, 5, 3, 6, 2, 4], valves("IEIEIEIEIEIE")),
];

/** The built-in layouts; the first is the default. */
export const LAYOUTS: readonly Layout[] = PLANS.map(buildLayout);

/** The built-in layout of that id. @throws LayoutError naming the ids there are. */
export function layoutById(id: string): Layout {
  const layout = LAYOUTS.find((other) => other.id === id);
  if (layout !== undefined) return layout;
  throw new LayoutError(
    "layout",
    `found "${id}"; expected one of ${LAYOUTS.map((other) => other.id).join(", ")}, or a layout written out`,
  );
}
