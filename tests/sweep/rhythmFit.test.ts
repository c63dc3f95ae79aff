import { describe, expect, it } from "vitest";
import { fitRhythm, type RhythmFit, type RockingRun } from "../../core/sweep/rhythmFit.ts";
import { Chance } from "./rocking.ts";

/** Bore less two contact radii, µm: what the fit takes for its next term of 1/cos. */
const REACH_UM = 16_000;
const LENGTH_MS = 600;
/** Noise of a reading and rounding by the display, µm², as the requirement has them. */
const floor = (resolutionUm: number) => 0.4 ** 2 + resolutionUm ** 2 / 12;

interface Swing {
  /** Tilt at the ends of the swings, degrees, one more than there are passes. */
  readonly endsDeg: readonly number[];
  /** When those ends were reached, ms. */
  readonly timesMs: readonly number[];
  /** What each pass reads square, µm. */
  readonly squareUm: readonly number[];
}

/** A swing of even rhythm between the same two ends. */
function even(passes: number, deg: number, squareUm: readonly number[] = Array(passes).fill(0)): Swing {
  const at = Array.from({ length: passes + 1 }, (_, i) => i);
  return { endsDeg: at.map((i) => (i % 2 === 0 ? deg : -deg)), timesMs: at.map((i) => LENGTH_MS * i), squareUm };
}

/** Readings of a gauge that truly tilts so: K/cos θ − K above square. */
function readingsOf(swing: Swing, everyMs: number, fromMs = 0): RockingRun {
  const tMs: number[] = [];
  const um: number[] = [];
  const starts: number[] = [];
  for (let t = fromMs; t < (swing.timesMs.at(-1) as number); t += everyMs) {
    const pass = swing.timesMs.findLastIndex((time) => time <= t);
    if (starts.length <= pass) starts.push(tMs.length);
    const [from, to] = [swing.timesMs[pass] as number, swing.timesMs[pass + 1] as number];
    const [end, next] = [swing.endsDeg[pass] as number, swing.endsDeg[pass + 1] as number];
    const tilt = (end + next) / 2 + ((end - next) / 2) * Math.cos((Math.PI * (t - from)) / (to - from));
    tMs.push(t);
    um.push((swing.squareUm[pass] as number) + REACH_UM / Math.cos((tilt * Math.PI) / 180) - REACH_UM);
  }
  return { tMs: Float64Array.from(tMs), um: Float64Array.from(um), starts };
}

function fitted(run: RockingRun, resolutionUm = 1, stampMs = 0.5): RhythmFit {
  const fit = fitRhythm(run, resolutionUm, stampMs);
  if (fit === null) throw new Error("no rocking fits");
  return fit;
}

describe("what the gauge reads square, from exact readings of a rocking", () => {
  it.each([
    [100, 37],
    [60, 11],
    [50, 13],
  ])("is found to 5 nm with a reading every %i ms from %i ms on, wherever each pass turned", (everyMs, fromMs) => {
    const squares = [3, -2, 7, 0, 5];
    const { squareUm, misfit } = fitted(readingsOf(even(5, 5, squares), everyMs, fromMs));
    for (const [i, square] of squares.entries()) {
      expect(Math.abs((squareUm[i] as number) - square), `pass ${i}`).toBeLessThan(0.005);
      expect(misfit[i], `pass ${i}`).toBeLessThan(0.02);
    }
  });

  it("is found to 10 nm at 10°, where the excess of 1/cos over a parabola is 3 µm", () => {
    const { squareUm } = fitted(readingsOf(even(6, 10), 70));
    for (const square of squareUm) expect(Math.abs(square)).toBeLessThan(0.01);
  });

  it("is found to 0.1 µm in an uneven rhythm with ends that differ from side to side and from swing to swing", () => {
    const swing: Swing = {
      endsDeg: [5, -4, 5.5, -3.6, 4.6, -4.1],
      timesMs: [0, 620, 1180, 1840, 2380, 3000],
      squareUm: [0, 0, 0, 0, 0],
    };
    const { squareUm } = fitted(readingsOf(swing, 40));
    for (const square of squareUm) expect(Math.abs(square)).toBeLessThan(0.1);
  });

  it("shifts with all readings, and does not change with all times or with the clock's unit", () => {
    const run = readingsOf(even(4, 5, [1, 2, 3, 4]), 90, 20);
    const plainly = fitted(run);
    const higher = fitted({ ...run, um: run.um.map((value) => value + 250) });
    const later = fitted({ ...run, tMs: run.tMs.map((t) => t + 12_000) });
    const inTenths = fitted({ ...run, tMs: run.tMs.map((t) => 10 * t) }, 1, 5);
    for (const [i, square] of plainly.squareUm.entries()) {
      expect(higher.squareUm[i]).toBeCloseTo(square + 250, 9);
      expect(later.squareUm[i]).toBeCloseTo(square, 9);
      expect(inTenths.squareUm[i]).toBeCloseTo(square, 9);
      expect(inTenths.deviationUm[i]).toBeCloseTo(plainly.deviationUm[i] as number, 9);
    }
  });

  it("is moved by one reading 40 µm too high by less than three deviations, and the pass does not hide it", () => {
    const run = readingsOf(even(5, 5), 30, 11);
    const spiked = Float64Array.from(run.um);
    const at = (run.starts[2] as number) + 10;
    spiked[at] = (spiked[at] as number) + 40;
    const { squareUm, deviationUm, misfit } = fitted({ ...run, um: spiked });
    expect(Math.abs(squareUm[2] as number)).toBeLessThan(3 * (deviationUm[2] as number));
    expect(misfit[2]).toBeGreaterThan(10);
    expect(Math.max(misfit[1] as number, misfit[3] as number)).toBeLessThan(0.2);
  });
});

describe("how well it is known", () => {
  /** A dense solver by Gauss and Jordan, and derivatives by differences: nothing is shared with the fit. */
  function inverse(matrix: number[][]): number[][] {
    const size = matrix.length;
    const rows = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
    for (let column = 0; column < size; column += 1) {
      let pivot = column;
      for (let i = column; i < size; i += 1) {
        if (Math.abs(rows[i]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = i;
      }
      const found = rows[pivot] as number[];
      rows[pivot] = rows[column] as number[];
      const unit = found.map((value) => value / (found[column] as number));
      rows[column] = unit;
      for (let i = 0; i < size; i += 1) {
        if (i === column) continue;
        const factor = rows[i]?.[column] as number;
        rows[i] = (rows[i] as number[]).map((value, j) => value - factor * (unit[j] as number));
      }
    }
    return rows.map((row) => row.slice(size));
  }

  const model = (at: readonly number[], pass: number, t: number): number => {
    const [from, end, square, to, next] = at.slice(3 * pass, 3 * pass + 5) as [number, number, number, number, number];
    const u = (end + next) / 2 + ((end - next) / 2) * Math.cos((Math.PI * (t - from)) / (to - from));
    return square + u * u + (5 * u ** 4) / (6 * REACH_UM);
  };

  const slope = (at: readonly number[], index: number, of: (at: readonly number[]) => number): number => {
    const by = 1e-5;
    return (of(at.with(index, (at[index] as number) + by)) - of(at.with(index, (at[index] as number) - by))) / (2 * by);
  };

  /**
   * Variances of the squares from the information in the readings and in what is held about neighbours: ends on one
   * side differ by 20 %, lengths by 20 %, ends on both sides by 40 %.
   */
  function expected(at: readonly number[], run: RockingRun, resolutionUm: number, stampMs: number) {
    const passes = run.starts.length;
    const share = 0.06 * Math.sqrt(run.tMs.length / passes / 7);
    const information = at.map(() => at.map(() => 0));
    const gather = (gradient: readonly number[], variance: number) => {
      for (const [i, a] of gradient.entries()) {
        for (const [j, b] of gradient.entries()) {
          (information[i] as number[])[j] = (information[i]?.[j] as number) + (a * b) / variance;
        }
      }
    };
    let cost = 0;
    for (const [k, t] of run.tMs.entries()) {
      const pass = run.starts.findLastIndex((start) => start <= k);
      const excess = model(at, pass, t) - (at[3 * pass + 2] as number);
      const perMs = (model(at, pass, t + 1e-4) - model(at, pass, t - 1e-4)) / 2e-4;
      const variance = floor(resolutionUm) + (perMs * stampMs) ** 2 + (share * excess) ** 2;
      cost += Math.log(variance);
      gather(
        at.map((_, index) => slope(at, index, (changed) => model(changed, pass, t))),
        variance,
      );
    }
    // Half an interval beyond the last reading is the first guess of the last end.
    const interval = ((run.tMs.at(-1) as number) - (run.tMs[0] as number)) / (run.tMs.length - 1);
    const meanMs = ((run.tMs.at(-1) as number) + interval / 2 - (run.tMs[0] as number)) / passes;
    const heights = run.starts.map((start, i) => {
      const own = run.um.slice(start, run.starts[i + 1]);
      return Math.sqrt((own[0] as number) - Math.min(...own));
    });
    const lastPass = run.um.slice(run.starts.at(-1));
    heights.push(Math.sqrt((lastPass.at(-1) as number) - Math.min(...lastPass)));
    const meanEnd = heights.reduce((sum, height) => sum + height, 0) / heights.length;
    const hold = (of: (at: readonly number[]) => number, deviation: number) =>
      gather(
        at.map((_, index) => slope(at, index, of)),
        deviation ** 2,
      );
    for (let i = 0; i < passes; i += 1) {
      const [time, end] = [3 * i, 3 * i + 1];
      hold((x) => (x[end] as number) + (x[end + 3] as number), 0.4 * meanEnd);
      if (i + 1 === passes) break;
      hold((x) => (x[end] as number) - (x[end + 6] as number), 0.2 * meanEnd);
      hold((x) => (x[time] as number) - 2 * (x[time + 3] as number) + (x[time + 6] as number), 0.2 * meanMs);
    }
    const covariance = inverse(information);
    return { cost, deviations: run.starts.map((_, i) => Math.sqrt(covariance[3 * i + 2]?.[3 * i + 2] as number)) };
  }

  it.each([
    [1, 0.5, 65],
    [1, 0.5, 105],
    [1.27, 2, 105],
    [0.5, 2, 45],
  ])(
    "is the root of the inverse of the information: %f µm a step, stamps to %f ms, every %i ms",
    (step, stamp, every) => {
      const passes = 4;
      // The tilt whose square is the height of a swing, with its next term left out of both.
      const run = readingsOf(even(passes, 5), every);
      const end = Math.sqrt((REACH_UM / 2) * ((5 * Math.PI) / 180) ** 2);
      const at = Array.from({ length: 3 * passes + 2 }, (_, index) => {
        const i = Math.floor(index / 3);
        return index % 3 === 0 ? LENGTH_MS * i : index % 3 === 1 ? (i % 2 === 0 ? end : -end) : 0;
      });
      const { deviationUm, cost } = fitted(run, step, stamp);
      const { deviations, cost: expectedCost } = expected(at, run, step, stamp);
      for (const [i, deviation] of deviations.entries()) {
        expect((deviationUm[i] as number) / deviation, `pass ${i}`).toBeGreaterThan(0.999);
        expect((deviationUm[i] as number) / deviation, `pass ${i}`).toBeLessThan(1.001);
      }
      expect(cost).toBeCloseTo(expectedCost, 1);
    },
  );

  it("holds: over many noisy runs the errors are as large as stated", () => {
    const chance = new Chance(77);
    let errors = 0;
    let misfits = 0;
    let count = 0;
    for (let i = 0; i < 40; i += 1) {
      const run = readingsOf(even(4, 5), 100, chance.between(0, 100));
      const noisy = run.um.map((value) => Math.round(value + 0.4 * chance.normal()));
      const { squareUm, deviationUm, misfit } = fitted({ ...run, um: noisy }, 1, 0.5);
      for (const [pass, square] of squareUm.entries()) {
        errors += (square / (deviationUm[pass] as number)) ** 2;
        misfits += (misfit[pass] as number) ** 2;
        count += 1;
      }
    }
    // The rocking is steadier than the model allows for: what it leaves for the hand is not used up.
    expect(Math.sqrt(errors / count)).toBeGreaterThan(0.6);
    expect(Math.sqrt(errors / count)).toBeLessThan(1.05);
    expect(Math.sqrt(misfits / count)).toBeGreaterThan(0.2);
    expect(Math.sqrt(misfits / count)).toBeLessThan(0.5);
  });
});

describe("a recorded rocking that is read again", () => {
  /** A hand that wanders by 15 %, read by a display with noise, rounding and late stamps. */
  function recorded(seed: number, everyMs: number, stepUm: number): RockingRun {
    const chance = new Chance(seed);
    const timesMs = [0];
    const endsDeg = [4];
    const squareUm: number[] = [];
    for (let i = 0; i < 6; i += 1) {
      timesMs.push((timesMs.at(-1) as number) + LENGTH_MS * (1 + 0.15 * chance.mild()));
      endsDeg.push((i % 2 === 0 ? -4 : 4) * (1 + 0.15 * chance.mild()));
      squareUm.push(0.5 * chance.normal());
    }
    const run = readingsOf({ endsDeg, timesMs, squareUm }, everyMs, chance.between(0, everyMs));
    return {
      tMs: run.tMs.map((t) => t + 2 * chance.mild()),
      um: run.um.map((value) => stepUm * Math.round((value + 0.4 * chance.normal()) / stepUm)),
      starts: run.starts,
    };
  }

  // Found by this fit when it was accepted: a session read again years later must be judged by the same figures.
  const judged: readonly {
    readonly seed: number;
    readonly run: readonly [everyMs: number, stepUm: number, stampMs: number];
    /** Square, its deviation, µm, and the misfit. */
    readonly passes: readonly (readonly [square: number, deviation: number, misfit: number])[];
    readonly cost: number;
  }[] = [
    {
      seed: 21,
      run: [100, 1.27, 2],
      passes: [
        [0.779145, 0.51162, 0.091334],
        [-0.291052, 0.51914, 0.206044],
        [-0.178107, 0.540799, 0.253259],
        [-1.43335, 0.425829, 0.108809],
        [-0.567329, 0.528316, 0.432952],
        [-0.985408, 0.538052, 0.246396],
      ],
      cost: 17.26707,
    },
    {
      seed: 22,
      run: [100, 1.27, 0.5],
      passes: [
        [0.925861, 0.463563, 0.390817],
        [-0.021382, 0.50534, 0.291687],
        [-0.210163, 0.491129, 0.483971],
        [-0.631504, 0.515004, 0.130165],
        [0.168444, 0.43361, 0.408222],
        [0.175812, 0.421268, 0.428493],
      ],
      cost: 17.78606,
    },
    {
      seed: 23,
      run: [40, 0.5, 2],
      passes: [
        [0.077613, 0.260233, 0.441996],
        [0.110058, 0.255306, 0.357649],
        [0.614138, 0.253553, 0.580467],
        [-0.080528, 0.272818, 0.418846],
        [-0.048828, 0.265706, 0.187534],
        [0.939509, 0.279661, 0.229291],
      ],
      cost: 97.7713,
    },
    {
      seed: 24,
      run: [180, 1, 0.5],
      passes: [
        [-0.047543, 0.597756, 0.091966],
        [-0.578562, 0.694839, 0.259155],
        [1.214438, 0.65768, 0.062596],
        [-0.5517, 0.630537, 0.098331],
        [-0.70668, 0.642287, 0.260358],
        [-0.371281, 0.747492, 0.171119],
      ],
      cost: -2.0115,
    },
  ];
  it.each(judged)(
    "gives the figures it was judged by: seed $seed",
    ({ seed, run: [everyMs, step, stamp], passes, cost: expected }) => {
      const { squareUm, deviationUm, misfit, cost } = fitted(recorded(seed, everyMs, step), step, stamp);
      for (const [i, [square, deviation, fits]] of passes.entries()) {
        expect(squareUm[i], `pass ${i}`).toBeCloseTo(square, 5);
        expect(deviationUm[i], `pass ${i}`).toBeCloseTo(deviation, 5);
        expect(misfit[i], `pass ${i}`).toBeCloseTo(fits, 5);
      }
      expect(cost).toBeCloseTo(expected, 4);
    },
  );
});

describe("what no rocking fits", () => {
  const run = (tMs: readonly number[], um: readonly number[], starts = [0]): RockingRun => ({
    tMs: Float64Array.from(tMs),
    um: Float64Array.from(um),
    starts,
  });

  it("is a run whose time stands still", () => {
    expect(fitRhythm(run([5, 5, 5, 5], [9, 1, 0, 8]), 1, 0.5)).toBeNull();
  });

  it("is a run in which a pass takes less than a third of the mean", () => {
    const swing = { ...even(3, 5), timesMs: [0, 600, 700, 1300] };
    expect(fitRhythm(readingsOf(swing, 20), 1, 0.5)).toBeNull();
    expect(fitRhythm(readingsOf({ ...swing, timesMs: [0, 600, 840, 1440] }, 20), 1, 0.5)).not.toBeNull();
  });

  it("is a run with a reading that is no number", () => {
    expect(fitRhythm(run([0, 100, 200, 300], [9, Number.NaN, 0, 8]), 1, 0.5)).toBeNull();
  });
});
