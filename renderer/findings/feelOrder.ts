import type { FeelView } from "../../core/session/feel.ts";

/** The oil of the newest entry that names one; the next bore is most likely felt with the same. */
export function lastOil(feel: readonly FeelView[]): string {
  const named = feel.filter(({ oil }) => oil !== "").sort((one, other) => one.tMs - other.tMs);
  return named.at(-1)?.oil ?? "";
}

/** The next bore after `bore`, round the end, that has no entry or an outdated one; null when there is no other. */
export function nextToFeel(bores: readonly string[], feel: readonly FeelView[], bore: string): string | null {
  const done = new Set(feel.filter(({ outdated }) => outdated === null).map((entry) => entry.bore));
  const from = bores.indexOf(bore) + 1;
  const order = [...bores.slice(from), ...bores.slice(0, from)];
  return order.find((other) => other !== bore && !done.has(other)) ?? null;
}
