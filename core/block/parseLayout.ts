import { z } from "../zod.ts";
import type { Bore, Layout, Valve } from "./layout.ts";

/** Thrown for a layout or a walk that makes no sense: `path` says where in the job, the message what was expected. */
export class LayoutError extends Error {
  override readonly name = "LayoutError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(message);
    this.path = path;
  }
}

/**
 * A layout written out:
 * ```json
 * { "id": "own", "title": "Inline three", "firingOrder": [1, 3, 2],
 *   "banks": [{ "name": "only", "cylinders": [1, 2, 3], "bores": ["I", "E", "I", "E", "I", "E"] }] }
 * ```
 * Each bank lists its cylinders front to rear and, front to rear along the bank, whether each lifter bore is an intake
 * or an exhaust; the bores belong to the cylinders in order, the same number to each. With more than one intake or
 * exhaust bore a cylinder they are named "1I1", "1I2" from the front.
 */
const shape = z.strictObject({
  id: z.string().min(1).max(60).optional(),
  title: z.string().max(200).optional(),
  firingOrder: z.array(z.number().int().min(1).max(99)).min(1).max(16),
  banks: z
    .array(
      z.strictObject({
        name: z.string().min(1).max(40),
        cylinders: z.array(z.number().int().min(1).max(99)).min(1).max(16),
        bores: z
          .array(z.enum(["I", "E"]))
          .min(1)
          .max(64),
      }),
    )
    .min(1)
    .max(2),
});

/** What a layout is made from; see `parseLayout`. */
export interface LayoutPlan {
  readonly id: string;
  readonly title: string;
  readonly firingOrder: readonly number[];
  readonly banks: readonly {
    readonly name: string;
    readonly cylinders: readonly number[];
    readonly bores: readonly Valve[];
  }[];
}

/** Half the width between the lifter rows of two banks, and how far the right bank stands behind the left, in plan. */
const ROW_X = 0.45;
/** One bank of a V stands half a rod's width further back, since two rods share a crankpin. A drawing's figure. */
const STAGGER = 0.03;

/**
 * Places the bores of a layout and names them.
 * @throws LayoutError when cylinders, bores and firing order do not fit each other.
 */
export function buildLayout(plan: LayoutPlan): Layout {
  const cylinders = plan.banks.flatMap((bank) => bank.cylinders);
  for (const [index, bank] of plan.banks.entries()) {
    for (const [position, cylinder] of bank.cylinders.entries()) {
      if (cylinders.filter((other) => other === cylinder).length > 1) {
        throw new LayoutError(`layout.banks[${index}].cylinders[${position}]`, `cylinder ${cylinder} is there twice`);
      }
    }
    if (bank.bores.length % bank.cylinders.length !== 0) {
      throw new LayoutError(
        `layout.banks[${index}].bores`,
        `found ${bank.bores.length} bores for ${bank.cylinders.length} cylinders; expected the same number for each`,
      );
    }
  }
  const sorted = (list: readonly number[]) => [...list].sort((a, b) => a - b).join(", ");
  if (sorted(plan.firingOrder) !== sorted(cylinders)) {
    throw new LayoutError(
      "layout.firingOrder",
      `found ${plan.firingOrder.join(", ")}; expected each of the cylinders ${sorted(cylinders)} once`,
    );
  }
  const bores: Bore[] = [];
  for (const [bankIndex, bank] of plan.banks.entries()) {
    const perCylinder = bank.bores.length / bank.cylinders.length;
    for (const [along, valve] of bank.bores.entries()) {
      const cylinder = bank.cylinders[Math.floor(along / perCylinder)] as number;
      const own = bank.bores.slice(
        Math.floor(along / perCylinder) * perCylinder,
        (Math.floor(along / perCylinder) + 1) * perCylinder,
      );
      const count = own.filter((other) => other === valve).length;
      const nth = own.slice(0, (along % perCylinder) + 1).filter((other) => other === valve).length;
      const stagger = plan.banks.length > 1 ? (bankIndex === 0 ? 0 : STAGGER) : 0;
      const y =
        0.05 + stagger + (0.9 - (plan.banks.length > 1 ? STAGGER : 0)) * (along / Math.max(1, bank.bores.length - 1));
      bores.push({
        name: count > 1 ? `${cylinder}${valve}${nth}` : `${cylinder}${valve}`,
        cylinder,
        valve,
        bank: bankIndex,
        along,
        x: plan.banks.length === 1 ? 0 : bankIndex === 0 ? -ROW_X : ROW_X,
        y,
      });
    }
  }
  return {
    id: plan.id,
    title: plan.title,
    firingOrder: [...plan.firingOrder],
    banks: plan.banks.map(({ name, cylinders: own }) => ({ name, cylinders: [...own] })),
    bores,
  };
}

/**
 * Reads a layout written out in a job file (its shape stands above).
 * @throws LayoutError with the path in the job and what was expected.
 */
export function parseLayout(json: unknown): Layout {
  const parsed = shape.safeParse(json);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const keys = issue?.code === "unrecognized_keys" ? [...issue.path, issue.keys[0] ?? ""] : (issue?.path ?? []);
    const path = keys.reduce<string>(
      (text, key) => (typeof key === "number" ? `${text}[${key}]` : `${text}.${String(key)}`),
      "layout",
    );
    throw new LayoutError(
      path,
      issue?.code === "unrecognized_keys" ? "unknown field" : (issue?.message ?? "no layout"),
    );
  }
  const { id, title, firingOrder, banks } = parsed.data;
  return buildLayout({ id: id ?? "own", title: title ?? "own layout", firingOrder, banks });
}
