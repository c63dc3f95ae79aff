import { describe, expect, it } from "vitest";
import { toNm } from "../../core/length/nm.ts";
import { PolarityWatch } from "../../core/sweep/polarityWatch.ts";
import type { Sample } from "../../core/sweep/sweep.ts";
import { Chance } from "./rocking.ts";
import { play, still } from "./scenes.ts";

const STEP = toNm(1000);
const SWING_MS = 600;

/**
 * Readings every 50 ms of a rocking whose swings end so high above square, nm, one more than there are passes: the tilt
 * goes between ends as half a cosine, and what the gauge reads as its square. `sign` −1 for a gauge that counts the other
 * way than its profile says.
 */
function rocked(topsNm: readonly number[], sign: 1 | -1, fromMs = 0, squareNm: (pass: number) => number = () => 0) {
  const samples: Sample[] = [];
  for (let t = 7; t < (topsNm.length - 1) * SWING_MS; t += 50) {
    const pass = Math.floor(t / SWING_MS);
    const [from, to] = [Math.sqrt(topsNm[pass] as number), -Math.sqrt(topsNm[pass + 1] as number)];
    const tilt = (from + to) / 2 + ((from - to) / 2) * Math.cos(Math.PI * (t / SWING_MS - pass));
    samples.push({ tMs: fromMs + t, valueNm: toNm(sign * (tilt * tilt + squareNm(pass))) });
  }
  return samples;
}

/** Tops that scatter by 10 µm, as a hand's do. */
const wandering = [60_000, 75_000, 55_000, 70_000, 58_000, 74_000, 52_000, 66_000, 60_000, 72_000];

function watched(samples: readonly Sample[], watch = new PolarityWatch({ resolutionNm: STEP })) {
  for (const sample of samples) watch.push(sample);
  return watch;
}

/** A rest that wobbles by a tenth of a micrometre. */
function rest(fromMs: number, untilMs: number, nm: number): Sample[] {
  const count = Math.floor((untilMs - fromMs) / 50);
  return Array.from({ length: count }, (_, i) => ({ tMs: fromMs + 7 + 50 * i, valueNm: toNm(nm + (i % 2) * 100) }));
}

/** After how many milliseconds a gauge was first said to count the other way; null if never. */
function saidAt(samples: readonly Sample[]): number | null {
  const watch = new PolarityWatch({ resolutionNm: STEP });
  for (const sample of samples) {
    watch.push(sample);
    if (watch.reversed) return sample.tMs;
  }
  return null;
}

describe("sweeps that turn at one place, while their ends wander", () => {
  it("show a gauge that counts the other way by turning at their largest, and a right one by their smallest", () => {
    expect(watched(rocked(wandering, -1)).reversed).toBe(true);
    expect(watched(rocked(wandering, 1)).reversed).toBe(false);
  });

  it("are believed from the fourth pass on", () => {
    // In the mirrored stream the first pass begins with the first reading: the fourth closes soon after 2.4 s.
    const at = saidAt(rocked(wandering, -1)) ?? 0;
    expect(at).toBeGreaterThan(4 * SWING_MS);
    expect(at).toBeLessThan(4.5 * SWING_MS);
    expect(saidAt(rocked(wandering.slice(0, 4), -1))).toBeNull();
  });

  it("say nothing while the ends repeat too: three times the scatter of square, and of the display's rounding", () => {
    // Square repeats to a few nanometres here, so that a quarter of a step counts for it: ends must scatter by 0.75 µm.
    const byNm = (nm: number) => Array.from({ length: 6 }, (_, i) => 60_000 + (i % 2 ? nm : -nm));
    expect(watched(rocked(byNm(300), -1)).reversed).toBe(false);
    expect(watched(rocked(byNm(1500), -1)).reversed).toBe(true);
    // Where square itself is found to scatter, by 4 µm here, ends must scatter by 12.
    const square = (pass: number) => (pass % 2 ? 4000 : -4000);
    const tops = (nm: number) => Array.from({ length: 8 }, (_, i) => 60_000 + (i % 4 < 2 ? nm : -nm));
    expect(watched(rocked(tops(5000), -1, 0, square)).reversed).toBe(false);
    expect(watched(rocked(tops(25_000), -1, 0, square)).reversed).toBe(true);
  });

  it("do not count the end before the first pass: the way in may lie there", () => {
    const steady = [160_000, ...Array(6).fill(60_000)];
    expect(watched(rocked(steady, -1)).reversed).toBe(false);
  });

  it("count by the last eight: a hand that has become steady shows no more", () => {
    const watch = watched(rocked([...wandering, ...Array(8).fill(60_000)], 1));
    expect(watch.reversed).toBe(false);
    // The steady sweeps are forgotten in turn.
    const turned = watched(rocked([...Array(9).fill(60_000), ...wandering.slice(0, 6)], -1));
    expect(turned.reversed).toBe(true);
  });

  it("begin anew once the gauge was drawn out, or the rocking stopped", () => {
    const firstThree = rocked(wandering.slice(0, 4), -1);
    const later = rocked(wandering.slice(4, 8), -1, 20_000);
    expect(saidAt([...firstThree, ...later])).toBeNull();
    const out = play([still(-3_000_000, 200)], 50, 1000, 0, new Chance(1)).map((s) => ({ ...s, tMs: s.tMs + 1800 }));
    const soon = rocked(wandering.slice(4, 8), -1, 2100);
    expect(saidAt([...firstThree, ...out, ...soon])).toBeNull();
  });

  it("count a whole swing only: one that ended with the gauge drawn out or at rest tells nothing", () => {
    // Three whole swings, and a fourth that ends as the gauge comes to rest at its end.
    const stopped = [...rocked(wandering.slice(0, 5), -1), ...rest(2400, 4000, -58_000)];
    expect(saidAt(stopped)).toBeNull();
  });

  it("say nothing where both sides repeat, nor where neither does", () => {
    const neither = (pass: number) => [0, 9000, -7000, 4000, -9000, 7000, 2000, -5000][pass % 8] as number;
    expect(saidAt(rocked(wandering.slice(0, 8), -1, 0, neither))).toBeNull();
  });

  it("take back what was said, once they turn at their smallest", () => {
    const watch = watched(rocked(wandering, -1));
    expect(watch.reversed).toBe(true);
    watched(rocked(wandering, 1, 20_000), watch);
    expect(watch.reversed).toBe(false);
  });
});

describe("what a gauge's way of counting is not judged by", () => {
  it("says nothing of a gauge at rest", () => {
    const samples = play([still(0, 20_000)], 20, 1270, 400, new Chance(1));
    expect(watched(samples, new PolarityWatch({ resolutionNm: toNm(1270) })).reversed).toBe(false);
  });
});
