// `npm run long -- fuzz-files [N [SEED]]`: N mutated files into their readers; what they came to, how long reading
// took, and every promise that was broken.
import fc from "fast-check";
import { mutations, trials } from "../fuzz/trials.ts";

/** Slower than this is a hang, ms. */
const HANG_MS = 1000;
const CHUNK = 100;

const { LONG_NUMBER = "1000", LONG_SEED: seedText = "1", LONG_KIND } = process.env;
const N = Number(LONG_NUMBER);
/** One kind alone is for whoever looks for what is wrong with it. */
const kinds = trials.filter(({ name }) => LONG_KIND === undefined || name === LONG_KIND);
/** Time of the processor and not of the clock, as others may be at work on this machine. */
const processorMs = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};
const started = performance.now();
/** Ctrl-C ends it early, and what it came to so far is told. */
let stopped = false;
process.once("SIGINT", () => {
  stopped = true;
});
let all = 0;
const finds = new Map<string, { count: number; first: string }>();

for (const trial of kinds) {
  const outcomes = new Map<string, number>();
  let slowestMs = 0;
  let slowest = "";
  let totalMs = 0;
  let files = 0;
  const each = Math.ceil((N * trial.share) / kinds.reduce((sum, { share }) => sum + share, 0));
  for (let chunk = 0; files < each && !stopped; chunk += 1) {
    // A signal is heard only between two turns of the loop.
    await new Promise((resolve) => setImmediate(resolve));
    const seed = Number(seedText) * 1_000_003 + chunk;
    for (const mutation of fc.sample(mutations, { seed, numRuns: Math.min(CHUNK, each - files) })) {
      const file = trial.make(mutation);
      const before = processorMs();
      let outcome: string;
      try {
        outcome = await trial.read(file, mutation);
      } catch (error) {
        const { name, message, stack } = error as Error;
        outcome = "A PROMISE BROKEN";
        const key = `${trial.name}: ${name}: ${message.slice(0, 120).replace(/\d+/g, "#")}`;
        const find = finds.get(key) ?? { count: 0, first: `${JSON.stringify(mutation)}\n${stack?.slice(0, 1500)}` };
        finds.set(key, { ...find, count: find.count + 1 });
      }
      const ms = processorMs() - before;
      files += 1;
      all += 1;
      totalMs += ms;
      outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
      if (ms > slowestMs) {
        slowestMs = ms;
        slowest = JSON.stringify(mutation);
      }
      if (ms > HANG_MS)
        finds.set(`${trial.name}: took ${Math.round(ms)} ms`, { count: 1, first: JSON.stringify(mutation) });
    }
  }
  console.log(
    `\n${trial.name}: ${files} mutated files in ${(totalMs / 1000).toFixed(0)} s; slowest ${slowestMs.toFixed(0)} ms (${slowest.slice(0, 200)})`,
  );
  console.table([...outcomes].sort((a, b) => b[1] - a[1]).map(([outcome, count]) => ({ outcome, files: count })));
}

for (const [what, { count, first }] of finds) console.log(`\nFOUND ${count} times: ${what}\n${first}`);
console.log(
  `\n${all} mutated files, ${finds.size} kinds of trouble, ${((performance.now() - started) / 60_000).toFixed(1)} min, seed ${seedText}`,
);
process.exitCode = finds.size === 0 ? 0 : 1;
