import type { SessionEntry } from "../store/store.ts";

/**
 * Sessions that this one could be laid over: not itself, none that can not be read; those of the same block first, and
 * among these the newest.
 */
export function earlierFirst(sessions: readonly SessionEntry[], own: string, block: string): SessionEntry[] {
  const same = (entry: SessionEntry) => block !== "" && entry.block === block;
  return sessions
    .filter(({ id, trouble }) => id !== own && trouble === null)
    .toSorted((a, b) => Number(same(b)) - Number(same(a)) || b.created.localeCompare(a.created));
}
