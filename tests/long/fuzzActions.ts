// `npm run long -- fuzz-actions [N [SEED]]`: N walks by random actions, every law held after each action.
import fc from "fast-check";
import { streamWalks, walkBy, walks } from "../fuzz/actions.ts";

const { LONG_NUMBER = "1000", LONG_SEED = "1" } = process.env;
const CHUNK = 500;
const started = performance.now();
const finds = new Map<string, string>();
const hold = (walk: Parameters<typeof walkBy>[0]) => void walkBy(walk);
let done = 0;
for (let chunk = 0; done < Number(LONG_NUMBER); chunk += 1) {
  const numRuns = Math.min(CHUNK, Number(LONG_NUMBER) - done);
  // One in five with a stream, whose walks are twenty times as long.
  const found = fc.check(chunk % 5 === 4 ? fc.property(streamWalks, hold) : fc.property(walks, hold), {
    seed: Number(LONG_SEED) * 1_000_003 + chunk,
    numRuns,
  });
  done += numRuns;
  if (!found.failed) continue;
  const says = found.errorInstance instanceof Error ? found.errorInstance.message : String(found.errorInstance);
  finds.set(says, `seed ${found.seed}, path ${found.counterexamplePath}\n${fc.stringify(found.counterexample)}`);
}
for (const [what, example] of finds) console.log(`FOUND: ${what}\n${example}\n`);
const minutes = ((performance.now() - started) / 60_000).toFixed(1);
console.log(`${done} walks, ${finds.size} kinds of trouble, ${minutes} min, seed ${LONG_SEED}`);
process.exitCode = finds.size === 0 ? 0 : 1;
