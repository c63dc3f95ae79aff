// `npm run long -- fuzz-lines [N [SEED]]`: N damaged lines of every format, and which share of the damage nobody could
// notice from the line alone.
import { Random } from "../../electron/simulator/random.ts";
import { DAMAGES, type Fate, sendDamaged } from "../fuzz/lineDamage.ts";
import { LINE_STYLES } from "../fuzz/lineStyles.ts";

const { LONG_NUMBER = "10000", LONG_SEED: seedText = "1" } = process.env;
const N = Number(LONG_NUMBER);
const random = new Random(Number(seedText));
const each = Math.ceil(N / (LINE_STYLES.length * DAMAGES.length));
const started = performance.now();
const finds = new Map<string, number>();
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

const rows = LINE_STYLES.map((style) => {
  const shares = DAMAGES.map((damage): readonly [string, number] => {
    const fates: Record<Fate, number> = { refused: 0, right: 0, wrong: 0 };
    for (let run = 0; run < each; run += 1) {
      const digits = 10 ** (1 + random.below(5));
      const steps = (random.below(2) === 0 ? 1 : -1) * (2 + random.below(digits));
      try {
        fates[sendDamaged(style, steps, damage, random)] += 1;
      } catch (error) {
        const what = (error as Error).message;
        finds.set(what, (finds.get(what) ?? 0) + 1);
      }
    }
    return [damage, fates.wrong / each];
  });
  const all = shares.reduce((sum, [, share]) => sum + share, 0) / shares.length;
  return {
    "lines written as": style.name,
    ...Object.fromEntries(shares.map(([damage, share]) => [damage, percent(share)])),
    "all alike": percent(all),
  };
});

console.log("Damage that leaves another line which the format must take, of all damage to one character of a line:");
console.table(rows);
for (const [what, count] of [...finds].slice(0, 40)) console.log(`FOUND ${count} times: ${what}`);
const minutes = ((performance.now() - started) / 60_000).toFixed(1);
console.log(
  `\n${each * LINE_STYLES.length * DAMAGES.length} damaged lines, ${finds.size} taken for a number that a strict reader would refuse, ${minutes} min, seed ${seedText}`,
);
process.exitCode = finds.size === 0 ? 0 : 1;
