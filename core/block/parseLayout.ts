import { errorText, expectedText, wellFormed } from "../length/shownText.ts";
import { z } from "../zod.ts";
import type { Bore, Layout, Valve } from "./layout.ts";

/** Thrown for a layout or a walk that makes no sense: `path` says where in the job, the message what was expected. */
export class LayoutError extends Error {
  override readonly name = "LayoutError";
  readonly path: string;
  constructor(path: string, message: string) {
    super(errorText(message));
    this.path = path;
  }
}

const MOST_CYLINDERS = 16;

const text = (longest: number) => z.string().max(longest).refine(wellFormed, "expected well-formed text");

/**
 * A layout written out:
 * ```json
 * { "id": "own", "title": "Inline three", "firingOrder": [1, 3, 2],
 *   "banks": [{ "name": "only", "cylinders": [1, 2, 3], "bores": ["I", "E", "I", "E", "I", "E"] }] }
 * ```
 * Each bank lists its cylinders front to rear and, front to rear along the bank, whether each lifter bore is an intake
 * or an exhaust; the bores belong to the cylinders in order, the same number to each, at least one of either kind.
 * With more than one intake or exhaust bore a cylinder they are named "1I1", "1I2" from the front. Up to 16 cylinders
 * in one or two banks; the first of two is the left one, seen from the flywheel end looking forward.
 */
const shape = z.strictObject({
  id: text(60).min(1).optional(),
  title: text(200).optional(),
  firingOrder: z.array(z.number().int().min(1).max(99)).min(1).max(MOST_CYLINDERS),
  banks: z
    .array(
      z.strictObject({
        name: text(40).min(1),
        cylinders: z.array(z.number().int().min(1).max(99)).min(1).max(MOST_CYLINDERS),
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

/** Half the width between the lifter rows of two banks, in plan. A drawing's figure. */
const ROW_X = 0.45;
/**
 * How far one bank of a V stands behind the other in plan, since two rods share a crankpin. The bank of the lowest
 * cylinder number leads (common practice, no source). A drawing's figure.
 */
const STAGGER = 0.03;
/** Free ends of the block in plan. */
const END_Y = 0.05;

/**
 * Places the bores of a layout and names them.
 * @throws LayoutError when cylinders, bores and firing order do not fit each other.
 */
export function buildLayout(plan: LayoutPlan): Layout {
  const cylinders = plan.banks.flatMap((bank) => bank.cylinders);
  checkBanks(plan, cylinders);
  const sorted = (list: readonly number[]) => [...list].sort((a, b) => a - b).join(", ");
  if (sorted(plan.firingOrder) !== sorted(cylinders)) {
    throw new LayoutError(
      "layout.firingOrder",
      `found ${plan.firingOrder.join(", ")}; expected each of the cylinders ${sorted(cylinders)} once`,
    );
  }
  const lowest = Math.min(...cylinders);
  const bores = plan.banks.flatMap((bank, bankIndex) => {
    const single = plan.banks.length === 1;
    const x = single ? 0 : bankIndex === 0 ? -ROW_X : ROW_X;
    const front = END_Y + (single || bank.cylinders.includes(lowest) ? 0 : STAGGER);
    const pitch = (1 - 2 * END_Y - (single ? 0 : STAGGER)) / Math.max(1, bank.bores.length - 1);
    return nameBores(bank).map(
      (bore, along): Bore => ({ ...bore, bank: bankIndex, along, x, y: front + along * pitch }),
    );
  });
  return {
    id: plan.id,
    title: plan.title,
    firingOrder: [...plan.firingOrder],
    banks: plan.banks.map(({ name, cylinders: own }) => ({ name, cylinders: [...own] })),
    bores,
  };
}

function checkBanks(plan: LayoutPlan, cylinders: readonly number[]): void {
  for (const [index, bank] of plan.banks.entries()) {
    const path = `layout.banks[${index}]`;
    if (plan.banks.some((other, at) => at < index && other.name === bank.name)) {
      throw new LayoutError(`${path}.name`, `found "${bank.name}" twice; expected another name for each bank`);
    }
    for (const [position, cylinder] of bank.cylinders.entries()) {
      const first = plan.banks.slice(0, index).some((other) => other.cylinders.includes(cylinder));
      if (first || bank.cylinders.indexOf(cylinder) !== position) {
        throw new LayoutError(`${path}.cylinders[${position}]`, `found cylinder ${cylinder} twice; expected it once`);
      }
    }
    if (bank.bores.length % bank.cylinders.length !== 0) {
      throw new LayoutError(
        `${path}.bores`,
        `found ${bank.bores.length} bores for ${bank.cylinders.length} cylinders; expected the same number for each`,
      );
    }
    for (const [position, cylinder] of bank.cylinders.entries()) {
      const own = boresOf(bank, position);
      for (const valve of ["I", "E"] as const) {
        if (!own.includes(valve)) {
          throw new LayoutError(
            `${path}.bores[${position * own.length}]`,
            `found ${own.join(", ")} for cylinder ${cylinder}; expected at least one I and one E`,
          );
        }
      }
    }
  }
  if (cylinders.length > MOST_CYLINDERS) {
    throw new LayoutError("layout.banks", `found ${cylinders.length} cylinders; expected at most ${MOST_CYLINDERS}`);
  }
}

type BankPlan = LayoutPlan["banks"][number];

/** The lifter bores of the cylinder at `position` of its bank, front to rear. */
function boresOf(bank: BankPlan, position: number): readonly Valve[] {
  const each = bank.bores.length / bank.cylinders.length;
  return bank.bores.slice(position * each, (position + 1) * each);
}

function nameBores(bank: BankPlan): Pick<Bore, "name" | "cylinder" | "valve">[] {
  return bank.cylinders.flatMap((cylinder, position) => {
    const own = boresOf(bank, position);
    return own.map((valve, at) => {
      const alike = own.filter((other) => other === valve).length;
      const nth = own.slice(0, at + 1).filter((other) => other === valve).length;
      return { name: alike > 1 ? `${cylinder}${valve}${nth}` : `${cylinder}${valve}`, cylinder, valve };
    });
  });
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
      issue?.code === "unrecognized_keys" ? "unknown field" : expectedText(issue?.message ?? "no layout"),
    );
  }
  const { id, title, firingOrder, banks } = parsed.data;
  return buildLayout({ id: id ?? "own", title: title ?? "own layout", firingOrder, banks });
}
