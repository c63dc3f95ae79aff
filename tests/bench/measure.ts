/** Shortest of some runs, ms: what the code needs when nothing else is in its way. */
export function shortest(work: () => void, runs = 7): number {
  let best = Number.POSITIVE_INFINITY;
  for (let run = 0; run < runs; run += 1) {
    const start = performance.now();
    work();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

/** Shortest processor times of two works that take turns, ms: what else the machine does counts for little in them. */
export function byTurns(one: () => void, other: () => void, runs = 5): readonly [oneMs: number, otherMs: number] {
  const best = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY] as [number, number];
  for (let run = 0; run < runs; run += 1) {
    for (const [index, work] of [one, other].entries()) {
      const start = process.cpuUsage();
      work();
      const { user, system } = process.cpuUsage(start);
      best[index] = Math.min(best[index] as number, (user + system) / 1000);
    }
  }
  return best;
}

/** Middle times of two works that take turns and wait for something, ms by the clock: a disk has lucky moments. */
export async function byTurnsWaiting(
  one: () => Promise<void>,
  other: () => Promise<void>,
  runs: number,
): Promise<readonly [oneMs: number, otherMs: number]> {
  const times: readonly [number[], number[]] = [[], []];
  for (let run = 0; run < runs; run += 1) {
    for (const [index, work] of [one, other].entries()) {
      const start = performance.now();
      await work();
      times[index]?.push(performance.now() - start);
    }
  }
  const middle = (all: number[]) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)] ?? Number.NaN;
  return [middle(times[0]), middle(times[1])];
}

export const fixed = (value: number | null, decimals: number) => (value === null ? "–" : value.toFixed(decimals));
