import type { Layout } from "../../core/block/layout.ts";

/** From so many bores in a bank on, a drawing with names in them needs more length than a page is high. */
const MANY = 10;

/** Whether a bank has so many bores that their names need a longer drawing. */
export function longBank({ banks, bores }: Pick<Layout, "banks" | "bores">): boolean {
  return banks.some((_, bank) => bores.filter((bore) => bore.bank === bank).length > MANY);
}
