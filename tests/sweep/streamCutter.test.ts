import { describe, expect, it } from "vitest";
import { type Nm, toNm } from "../../core/length/nm.ts";
import { type CutterEvent, STOP_MS, StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Pass, Sample } from "../../core/sweep/sweep.ts";
import { Chance, type Rocking, tilted } from "./rocking.ts";
import { cut, glide, plain, play, steady, still, told } from "./scenes.ts";

const FAR = 300_000;
const AIR = 1_200_000;

function passes(events: readonly CutterEvent[]): Pass[] {
  return events.flatMap((event) => (event.type === "pass" ? [event.pass] : []));
}

/** The reading at the end of the swing on one side. */
function top(rocking: Rocking, side = 1): number {
  return tilted(rocking, ((rocking.amplitudeDeg * side + rocking.offsetDeg) * Math.PI) / 180);
}

const half = 500 / plain.hertz;

describe("cutting a stream into passes", () => {
  it("gives one pass a half swing, in the order of a walk: in, rock, stop, out", () => {
    const scenes = [still(AIR, 2000), steady(plain, 6 * half), still(top(plain), 1500), still(AIR, 1000)];
    const events = cut(play(scenes, 20, 1270, 400, new Chance(1)), 1270, FAR);
    expect(told(events)).toBe(`withdrawn entered ${"pass ".repeat(6)}stopped withdrawn`);
    expect(passes(events).map((pass) => pass.end)).toEqual([...Array(5).fill("turned"), "stopped"]);
  });

  it("begins each pass with its maximum and never shares a sample between two", () => {
    const samples = play([steady(plain, 8 * half)], 20, 1270, 400, new Chance(2));
    const cuts = passes(cut(samples, 1270, FAR));
    expect(cuts.length).toBe(7);
    for (const pass of cuts) {
      const lowest = Math.min(...pass.samples.map((sample) => sample.valueNm));
      expect((pass.samples[0] as Sample).valueNm - lowest).toBeGreaterThan(20_000);
      expect((pass.samples.at(-1) as Sample).valueNm - lowest).toBeGreaterThan(20_000);
    }
    const joined = cuts.flatMap((pass) => pass.samples);
    const from = samples.indexOf(joined[0] as Sample);
    expect(joined).toEqual(samples.slice(from, from + joined.length));
  });

  it("makes no pass of the half swing at whose end the rocking stops near square", () => {
    for (let seed = 1; seed <= 40; seed += 1) {
      const chance = new Chance(seed);
      const scenes = [steady(plain, 6.5 * half), still(0, 20_000)];
      const cuts = passes(cut(play(scenes, chance.between(10, 50), 1270, 400, chance), 1270, FAR));
      expect(cuts.length, `seed ${seed}`).toBe(6);
    }
  });

  it("makes no pass of the half swing from which the gauge is drawn out", () => {
    const scenes = [steady(plain, 6.5 * half), still(AIR, 2000)];
    const events = cut(play(scenes, 20, 1270, 400, new Chance(3)), 1270, FAR);
    expect(told(events)).toBe(`${"pass ".repeat(6)}withdrawn`);
  });

  it("gives nothing for a gauge at rest, in the bore or in the air, for two minutes", () => {
    for (const [at, expected] of [
      [20_000, ""],
      [AIR, "withdrawn"],
    ] as const) {
      for (let seed = 1; seed <= 10; seed += 1) {
        const samples = play([still(at, 120_000)], 20, 500, 400, new Chance(seed));
        expect(told(cut(samples, 500, FAR)), `seed ${seed}`).toBe(expected);
      }
    }
  });

  it("learns how noisy a gauge is at rest, and still cuts a rocking of 3° with it", () => {
    const small = { ...plain, amplitudeDeg: 3 };
    const chance = new Chance(5);
    const events = cut(play([still(0, 20_000), steady(small, 8 * half)], 20, 500, 900, chance), 500, FAR);
    const late = passes(events).filter((pass) => (pass.samples[0] as Sample).tMs > 19_500);
    expect(late.length).toBeGreaterThanOrEqual(6);
    const quiet = cut(play([still(0, 20_000)], 20, 500, 900, new Chance(6)), 500, FAR);
    expect(passes(quiet).filter((pass) => (pass.samples[0] as Sample).tMs > 3000).length).toBe(0);
  });

  it("does not take a rocking that the display can hardly follow for noise, and cuts a small one after it", () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const chance = new Chance(seed);
      const quick = { ...plain, hertz: chance.between(1.8, 2.6) };
      const small = { ...plain, amplitudeDeg: 3, hertz: 0.6 };
      const scenes = [steady(quick, 10_000), still(top(quick), 1500), steady(small, 6000)];
      const cuts = passes(cut(play(scenes, 10, 1270, 400, chance), 1270, FAR));
      const late = cuts.filter((pass) => (pass.samples[0] as Sample).tMs > 11_000);
      expect(late.length, `seed ${seed}`).toBeGreaterThanOrEqual(5);
    }
  });

  it("goes on without a lost contact after a display stood still for a moment", () => {
    const rocking = steady(plain, 12 * half);
    const from = 6 * half + half / 4;
    const scene = {
      ms: rocking.ms,
      readsNm: (t: number) => rocking.readsNm(t > from && t < from + 1.25 * half ? from : t),
    };
    const events = cut(play([scene], 20, 1270, 0, new Chance(22)), 1270, FAR);
    expect(told(events)).not.toContain("contact-lost");
    for (const pass of passes(events)) expect(pass.samples.length).toBeLessThan(18);
  });

  it("gives every pass to somebody who rests at the ends of the swing, with a slow display as with a quick one", () => {
    const swings = 15;
    for (const amplitudeDeg of [3, 5, 8]) {
      for (const [perSecond, resolutionNm] of [
        [10, 1270],
        [10, 500],
        [20, 1270],
        [50, 1270],
      ] as const) {
        for (const restMs of [400, 600, 900, 1500]) {
          for (let seed = 1; seed <= 5; seed += 1) {
            const rocking = { ...plain, amplitudeDeg, hertz: 500 / 700 };
            const scenes = [still(AIR, 2000)];
            for (let swing = 0; swing < swings; swing += 1)
              scenes.push(steady(rocking, 700), still(top(rocking), restMs));
            const cuts = passes(
              cut(
                play([...scenes, still(top(rocking), 2000)], perSecond, resolutionNm, 50, new Chance(seed)),
                resolutionNm,
                FAR,
              ),
            );
            const what = `${amplitudeDeg}°, ${perSecond}/s of ${resolutionNm} nm, rest ${restMs} ms, seed ${seed}`;
            expect(cuts.length, what).toBe(swings);
            for (const { samples } of cuts) {
              // Two passes near square by no more than the display misses between two readings, and never a rest alone.
              expect(Math.min(...samples.map((sample) => sample.valueNm)), what).toBeLessThan(top(rocking) / 4);
            }
          }
        }
      }
    }
  });

  it("counts a brisk rocking of 11° in a large bore as rocking, though it swings above the range", () => {
    const brisk = { ...plain, boreMm: 26, amplitudeDeg: 11, hertz: 0.5 };
    expect(top(brisk)).toBeGreaterThan(FAR);
    for (const perSecond of [5, 10, 20, 50]) {
      const events = cut(play([steady(brisk, 12_000)], perSecond, 1270, 400, new Chance(7)), 1270, FAR);
      expect(told(events), `${perSecond} a second`).toMatch(/^(pass ?){11}$/);
    }
  });

  it("sees a slow withdrawal, one that ends barely beyond the range, and one without a known range", () => {
    const rocked = steady(plain, 6 * half);
    const slowly = [rocked, glide(top(plain), 600_000, 1500), still(600_000, 1500)];
    expect(told(cut(play(slowly, 20, 1270, 400, new Chance(8)), 1270, FAR))).toContain("withdrawn");
    const barely = [rocked, still(FAR + 40_000, 1500)];
    expect(told(cut(play(barely, 20, 1270, 400, new Chance(9)), 1270, FAR))).toContain("withdrawn");
    const unknown = [still(AIR, 2000), rocked, still(AIR, 2000), rocked];
    const events = cut(play(unknown, 20, 1270, 400, new Chance(10)), 1270, null);
    expect(told(events)).toBe(`${"pass ".repeat(6)}withdrawn entered ${"pass ".repeat(5)}`.trim());
  });

  it("does not call a withdrawal a loss of contact, whether the range is known or not", () => {
    for (const far of [FAR, null]) {
      for (let seed = 1; seed <= 20; seed += 1) {
        const chance = new Chance(seed);
        const scenes = [steady(plain, 7 * half), glide(top(plain, -1), 1_000_000, 350), still(1_000_000, 1500)];
        const events = cut(play(scenes, chance.between(10, 50), 508, 400, chance), 508, far);
        expect(told(events), `seed ${seed}`).toMatch(/^(pass ){6,7}withdrawn$/);
      }
    }
  });

  it("ends the last pass where the rocking ended, not with the rest that followed", () => {
    const scenes = [steady(plain, 6 * half), still(top(plain), 1500)];
    const cuts = passes(cut(play(scenes, 20, 508, 400, new Chance(21)), 508, FAR));
    const last = cuts.at(-1) as Pass;
    expect(last.end).toBe("stopped");
    expect((last.samples.at(-1) as Sample).tMs).toBeLessThan(6 * half + 100);
  });

  it("keeps a spike on the way in out of the passes", () => {
    const scenes = [still(AIR, 1000), still(-80_000, 50), steady(plain, 6 * half)];
    for (const perSecond of [10, 20, 50]) {
      const cuts = passes(cut(play(scenes, perSecond, 1270, 400, new Chance(11)), 1270, FAR));
      expect(cuts.length).toBe(5);
      for (const { samples } of cuts) {
        expect(Math.min(...samples.map((sample) => sample.valueNm))).toBeGreaterThan(-10_000);
      }
    }
  });

  it("loses contact over an oil hole once, and goes on", () => {
    const rocking = steady(plain, 16 * half);
    const from = 8 * half + 0.6 * half;
    const scene = {
      ms: rocking.ms,
      readsNm: (t: number) => rocking.readsNm(t) + (t > from && t < from + 150 ? 200_000 : 0),
    };
    const events = cut(play([scene], 50, 1270, 400, new Chance(12)), 1270, FAR);
    expect(events.filter((event) => event.type === "contact-lost").length).toBe(1);
    expect(passes(events).filter((pass) => pass.end === "contact-lost").length).toBe(1);
    expect(passes(events).filter((pass) => pass.end === "turned").length).toBeGreaterThanOrEqual(13);
    expect(told(cut(play([rocking], 50, 1270, 400, new Chance(12)), 1270, FAR))).toMatch(/^(pass ?)+$/);
  });

  it("calls a stream frozen that breaks off in mid swing, and one that rests while it ought to move", () => {
    const at = 6 * half + half / 4;
    const rocking = steady(plain, at);
    const frozen = { ms: at + 5000, readsNm: (t: number) => rocking.readsNm(Math.min(t, at)) };
    const events = cut(play([frozen], 50, 1270, 0, new Chance(13)), 1270, FAR);
    expect(events.filter((event) => event.type === "frozen").length).toBe(1);

    const rests = [steady(plain, 6 * half), glide(top(plain), 0, 300), still(0, 10_000)];
    const samples = play(rests, 20, 1270, 0, new Chance(14));
    expect(told(cut(samples, 1270, FAR))).not.toContain("frozen");
    const cutter = new StreamCutter({ resolutionNm: toNm(1270) });
    cutter.expectMotion(true);
    expect(told(samples.flatMap((sample) => cutter.push(sample)))).toContain("frozen");
  });

  it("never calls it frozen before any rocking", () => {
    const cutter = new StreamCutter({ resolutionNm: toNm(1270) });
    cutter.expectMotion(true);
    const samples = play([still(0, 20_000)], 20, 1270, 0, new Chance(15));
    expect(samples.flatMap((sample) => cutter.push(sample))).toEqual([]);
  });
});

describe("stopping, silence, gaps and the user's hand", () => {
  const rocked = () => {
    const cutter = new StreamCutter({ resolutionNm: toNm(1270) });
    const samples = play([steady(plain, 4 * half)], 20, 1270, 0, new Chance(16));
    for (const sample of samples) cutter.push(sample);
    return { cutter, last: samples.at(-1) as Sample };
  };

  it("says when silence will mean a stop, and stops then, once", () => {
    const { cutter } = rocked();
    const due = cutter.silenceDueMs() as number;
    expect(due).not.toBeNull();
    expect(cutter.silence(due - 1)).toEqual([]);
    expect(told(cutter.silence(due))).toBe("pass stopped");
    expect(cutter.silence(due + 5000)).toEqual([]);
    expect(cutter.silenceDueMs()).toBeNull();
  });

  it("stops by a reading as it would have by silence", () => {
    const { cutter, last } = rocked();
    const events = cutter.push({ tMs: last.tMs + 10 * STOP_MS, valueNm: last.valueNm });
    expect(told(events)).toBe("pass stopped");
  });

  it("never joins what lies on both sides of a long gap", () => {
    const samples = play([steady(plain, 20 * half)], 20, 1270, 400, new Chance(17));
    const gone = samples.filter((sample) => sample.tMs < 4.4 * half || sample.tMs > 4.4 * half + 900);
    for (const pass of passes(cut(gone, 1270, FAR))) {
      const gaps = pass.samples.slice(1).map((sample, i) => sample.tMs - (pass.samples[i] as Sample).tMs);
      expect(Math.max(...gaps)).toBeLessThan(200);
    }
  });

  it("closes the sweep by hand with everything since its maximum, and not the same one twice", () => {
    const { cutter, last } = rocked();
    const taken = cutter.take(last.tMs + 10);
    expect(told(taken)).toBe("pass");
    expect(passes(taken)[0]?.end).toBe("taken");
    expect(cutter.take(last.tMs + 20)).toEqual([]);
  });

  it("takes a gauge held still at square, and nothing in the air", () => {
    const cutter = new StreamCutter({ resolutionNm: toNm(1270) });
    cutter.setFar(FAR as Nm);
    const samples = play([still(0, 3000)], 20, 1270, 400, new Chance(18));
    for (const sample of samples) cutter.push(sample);
    const [event] = cutter.take(3000);
    const pass = event?.type === "pass" ? event.pass : null;
    expect(pass?.samples.length).toBeGreaterThanOrEqual(19);
    expect(pass?.samples.length).toBeLessThanOrEqual(21);
    for (const sample of play([still(AIR, 2000)], 20, 1270, 400, new Chance(19))) {
      cutter.push({ ...sample, tMs: sample.tMs + 3000 });
    }
    expect(cutter.take(5000)).toEqual([]);
  });

  it("drops the pass in progress when the cable is pulled", () => {
    const { cutter, last } = rocked();
    cutter.interrupt();
    expect(cutter.silenceDueMs()).toBeNull();
    expect(cutter.silence(last.tMs + 60_000)).toEqual([]);
    expect(cutter.take(last.tMs + 60_000)).toEqual([]);
  });
});
