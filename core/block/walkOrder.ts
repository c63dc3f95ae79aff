import type { BoreName, Layout } from "./layout.ts";
import { LayoutError } from "./parseLayout.ts";

/**
 * The bores in the order they are walked: `bank` = each bank front to rear; `firing` = the cylinders in firing order,
 * intakes then exhausts; a list = as given.
 * @throws LayoutError with the path `walk[i]` for a bore that the layout lacks or that is named twice, `walk` for none.
 */
export function walkOrder(layout: Layout, walk: "bank" | "firing" | readonly string[]): BoreName[] {
  if (walk === "bank") return layout.bores.map((bore) => bore.name);
  if (walk === "firing") {
    return layout.firingOrder.flatMap((cylinder) => {
      const own = layout.bores.filter((bore) => bore.cylinder === cylinder);
      return [...own.filter((bore) => bore.valve === "I"), ...own.filter((bore) => bore.valve === "E")].map(
        (bore) => bore.name,
      );
    });
  }
  if (walk.length === 0) throw new LayoutError("walk", "found an empty list; expected at least one bore");
  for (const [index, name] of walk.entries()) {
    if (!layout.bores.some((bore) => bore.name === name)) {
      const known = layout.bores.map((bore) => bore.name).join(", ");
      throw new LayoutError(`walk[${index}]`, `the layout has no bore "${name}"; it has ${known}`);
    }
    if (walk.indexOf(name) !== index) throw new LayoutError(`walk[${index}]`, `bore "${name}" is there twice`);
  }
  return [...walk];
}
