import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { PolarityWatch } from "../../core/sweep/polarityWatch.ts";
import { anyRocking, Chance, rock } from "./rocking.ts";
import { play, still } from "./scenes.ts";

/** Share of simulated rockings of ten passes that are called reversed; in the air before them. */
function reversedShare(sign: 1 | -1, perSecond: number): number {
  let reversed = 0;
  const rockings = 100;
  for (let seed = 1; seed <= rockings; seed += 1) {
    const chance = new Chance(seed);
    const rocking = anyRocking(chance, perSecond, seed % 2 === 0 ? "turns" : "smooth", "stamp");
    const watch = new PolarityWatch({ resolutionNm: toNm(rocking.resolutionNm) });
    const air = play([still(1_200_000, 2000)], perSecond, rocking.resolutionNm, 400, chance);
    for (const { tMs, valueNm } of [...air, ...rock(rocking, chance, 5 / rocking.hertz, 2000)]) {
      watch.push({ tMs, valueNm: toNm(sign * valueNm) });
    }
    if (watch.reversed) reversed += 1;
  }
  return reversed / rockings;
}

describe("sweeps that turn at their largest reading", () => {
  it.each([10, 20, 50])("are seen at %i readings a second, and a gauge that counts rightly is not accused", (rate) => {
    const seen = reversedShare(-1, rate);
    const accused = reversedShare(1, rate);
    console.info(`${rate}/s: reversed seen in ${seen}, wrongly in ${accused}`);
    expect(seen).toBeGreaterThan(0.85);
    expect(accused).toBeLessThanOrEqual(0.01);
  });
});
