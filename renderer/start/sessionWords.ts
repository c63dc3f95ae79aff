import type { SessionEntry } from "../store/store.ts";

/** How far a session is, in words. */
export function progress(entry: SessionEntry): string {
  if (entry.trouble !== null) return entry.trouble;
  if (entry.verdicts === null) return `${entry.bores} bores; being read`;
  return entry.complete ? `complete, ${entry.bores} bores` : `${entry.measured} of ${entry.bores} bores`;
}

/** What was found, in words: "13 fit, 2 too loose, 1 undecided"; empty while nothing was. */
export function outcome({ verdicts }: SessionEntry): string {
  if (verdicts === null) return "";
  const parts = [
    [verdicts.fits, verdicts.fits === 1 ? "fits" : "fit"],
    [verdicts["too tight"], "too tight"],
    [verdicts["too loose"], "too loose"],
    [verdicts.undecided, "undecided"],
  ] as const;
  return parts.flatMap(([count, word]) => (count === 0 ? [] : [`${count} ${word}`])).join(", ");
}

/** A time on this machine's clock, day first spelled so that no one mixes up day and month. */
export function when(iso: string): string {
  const time = new Date(iso);
  if (Number.isNaN(time.getTime())) return iso;
  return time.toLocaleString("en-GB", {
    day: "numeric",
    month: "short",
    year: "numeric",
    hour: "2-digit",
    minute: "2-digit",
  });
}

/**
 * The sessions in which every word asked for occurs: in job, block, file name, dates (as shown, or 2031-03), state or
 * outcome. Capitals do not matter.
 */
export function found(sessions: readonly SessionEntry[], asked: string): readonly SessionEntry[] {
  const words = asked
    .toLocaleLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  if (words.length === 0) return sessions;
  return sessions.filter((entry) => {
    const { title, block, id, created, modified, simulated } = entry;
    const said = [title, block, id, created, modified, when(created), when(modified), progress(entry), outcome(entry)];
    const text = [...said, simulated ? "simulated" : ""].join(" ").toLocaleLowerCase();
    return words.every((word) => text.includes(word));
  });
}
