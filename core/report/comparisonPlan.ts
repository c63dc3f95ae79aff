import type { Remedy } from "./remedySchema.ts";

/** What a plan has for a bore; diameters in nm at 20 °C. */
export interface PlannedBore {
  readonly kind: Remedy["block"]["plan"][number]["kind"];
  /** Whether metal is cut in it. */
  readonly cuts: boolean;
  /** Finished size, both included; null where nothing is cut. The upper one is the size not to pass. */
  readonly finishLowNm: number | null;
  readonly finishHighNm: number | null;
}

/** What a remedy's plan has for each bore; bores that no plan was found for are absent. */
export function plannedBores({ bores, block }: Pick<Remedy, "bores" | "block">): ReadonlyMap<string, PlannedBore> {
  const planned = new Map<string, PlannedBore>();
  for (const { name, chosen } of bores) {
    if (chosen !== null) planned.set(name, { kind: chosen, cuts: cuts(chosen), finishLowNm: null, finishHighNm: null });
  }
  for (const { bore, kind, finishLowNm, finishHighNm } of block.plan) {
    planned.set(bore, {
      kind,
      cuts: cuts(kind),
      finishLowNm: finishLowNm ?? null,
      finishHighNm: finishHighNm ?? null,
    });
  }
  return planned;
}

function cuts(kind: PlannedBore["kind"]): boolean {
  return kind !== "leave" && kind !== "pair";
}
