import type { PlanGeometry } from "../../core/report/planGeometry.ts";

/** Of an arrow key. */
export type Way = "up" | "down" | "left" | "right";

/**
 * The bore that an arrow key leads to from `from` on the picture as drawn: up and down along a bank, left and right
 * across to the nearest bore of the next bank. Null when there is none that way.
 */
export function neighbour(geometry: PlanGeometry, from: string, way: Way): string | null {
  const here = geometry.bores.find((bore) => bore.name === from);
  if (here === undefined) return geometry.bores[0]?.name ?? null;
  const along = way === "up" || way === "down";
  const sign = way === "up" || way === "left" ? -1 : 1;
  let best: { name: string; distance: number } | null = null;
  for (const bore of geometry.bores) {
    if (bore.name === from || (along ? bore.bank !== here.bank : bore.bank === here.bank)) continue;
    const ahead = (along ? bore.y - here.y : bore.x - here.x) * sign;
    if (ahead <= 0) continue;
    const distance = along ? ahead : Math.abs(bore.y - here.y) + ahead * 0.001;
    if (best === null || distance < best.distance) best = { name: bore.name, distance };
  }
  return best?.name ?? null;
}
