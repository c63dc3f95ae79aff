import { BandedMatrix } from "./bandedSolver.ts";

/**
 * Consecutive passes of one rocking as plain columns. Times in ms from any start, never falling; readings in µm from any
 * level; `starts[i]` is the index of the first reading of pass i, which is its maximum.
 */
export interface RockingRun {
  readonly tMs: Float64Array;
  readonly um: Float64Array;
  readonly starts: readonly number[];
}

/** What the rhythm model says of a run; one entry a pass in each list. */
export interface RhythmFit {
  /** The reading square, µm. */
  readonly squareUm: readonly number[];
  /** Its standard deviation under the model, µm. */
  readonly deviationUm: readonly number[];
  /** Root mean square of the pass's residuals over what the model expects of them; 1 when it is right. */
  readonly misfit: readonly number[];
  /** Minus twice the logarithm of the likelihood, without its constant: of two fits of one run the lower is better. */
  readonly cost: number;
}

/** Noise of a reading, µm RMS, before rounding by the display (the requirement's figure). */
const NOISE_UM = 0.4;
/** Share of the excess over square by which a hand departs from half a cosine, for a pass of `SHARE_SAMPLES` readings. */
const MODEL_SHARE = 0.06;
const SHARE_SAMPLES = 7;
/** How much neighbouring lengths, ends on the same side, and ends on both sides differ, relative standard deviations. */
const LENGTH_WANDER = 0.2;
const END_WANDER = 0.2;
const SIDE_WANDER = 0.4;
/** Residuals beyond so many standard deviations count for less (P. J. Huber's weights; from memory). */
const HUBER = 3;
/** The next term of 1/cos: K(1/cos θ − 1) = u² + 5u⁴/(6K) for u² = Kθ²/2. K taken as 16 mm; ±6 mm matters little. */
const BEND_PER_UM = 5 / (6 * 16_000);
/** A pass shorter than this share of the mean is not believed while fitting. */
const SHORTEST_SHARE = 0.3;
const ROUNDS = 6;
const STEPS_A_ROUND = 8;
/** Unknowns of a pass: when and how far its swing began, and what it reads square. */
const PER_PASS = 3;
/** The farthest coupling is between an end and the second one after it. */
const BAND = 7;

/**
 * Fits the rhythm model to a run of consecutive passes, all at once.
 *
 * Derived here: the gauge swings between ends of tilt `E0, E1, …` reached at `T0, T1, …`, each swing half a cosine, so
 * that pass i reads `c + u²·(1 + 5u²/6K)` with `u = (E0+E1)/2 + (E0−E1)/2·cos(π(t − T0)/(T1 − T0))`, the tilt in units
 * whose square is a length. With the same amplitude on both sides that is the `c + a·sin²(ω(t − t0))` of a steady
 * rocking. Ends are shared by neighbours, which is how neighbours settle the rhythm of a pass that has few readings of
 * its own; `c` is free for each pass, so that sweeps which disagree are seen to.
 *
 * Each reading weighs by the inverse of its variance: noise and rounding, the doubt of its time stamp (`stampMs`, RMS)
 * times its slope, and a share of its excess over square for what a hand does beyond the model. Lengths and amplitudes
 * of neighbours are held together loosely. Solved by damped least squares (Levenberg, Marquardt; from memory).
 *
 * Returns null when no rocking fits.
 */
export function fitRhythm(run: RockingRun, resolutionUm: number, stampMs: number): RhythmFit | null {
  const model = new RhythmModel(run, resolutionUm, stampMs);
  return model.solve();
}

class RhythmModel {
  readonly #run: RockingRun;
  readonly #passes: number;
  readonly #readings: number;
  readonly #floor: number;
  readonly #share: number;
  readonly #stampMs: number;
  readonly #meanMs: number;
  readonly #meanEnd: number;
  /** T0, E0, c0, T1, E1, c1, … Tn, En, and what the model says of every reading there. */
  #at: Float64Array;
  #seen: Seen;
  /** The same for unknowns that are being tried. */
  #tried: Seen;
  readonly #ties: readonly Tie[];
  readonly #weights: Float64Array;

  constructor(run: RockingRun, resolutionUm: number, stampMs: number) {
    const { tMs, um, starts } = run;
    const passes = starts.length;
    const last = tMs.length - 1;
    this.#run = run;
    this.#passes = passes;
    this.#readings = tMs.length;
    this.#floor = NOISE_UM ** 2 + resolutionUm ** 2 / 12;
    this.#share = MODEL_SHARE * Math.sqrt(tMs.length / passes / SHARE_SAMPLES);
    this.#stampMs = stampMs;
    this.#weights = new Float64Array(tMs.length);

    const at = new Float64Array(PER_PASS * passes + 2);
    let lowest = 0;
    let ends = 0;
    for (let i = 0; i <= passes; i += 1) {
      const start = starts[i] ?? last;
      if (i < passes) {
        lowest = Number.POSITIVE_INFINITY;
        const stop = starts[i + 1] ?? tMs.length;
        for (let k = start; k < stop; k += 1) lowest = Math.min(lowest, um[k] as number);
        at[PER_PASS * i + 2] = lowest;
      }
      // The last pass ends with the maximum that is not its own: half an interval on, more or less.
      const beyond = i < passes ? 0 : ((tMs[last] as number) - (tMs[0] as number)) / Math.max(1, last) / 2;
      const size = Math.sqrt(Math.max((um[start] as number) - lowest, 1));
      at[PER_PASS * i] = (tMs[start] as number) + beyond;
      at[PER_PASS * i + 1] = i % 2 === 0 ? size : -size;
      ends += size;
    }
    this.#at = at;
    this.#seen = newSeen(tMs.length);
    this.#tried = newSeen(tMs.length);
    this.#meanMs = ((at[PER_PASS * passes] as number) - (at[0] as number)) / passes;
    this.#meanEnd = ends / (passes + 1);
    this.#ties = tiesOf(passes, this.#meanMs, this.#meanEnd);
  }

  solve(): RhythmFit | null {
    if (!(this.#meanMs > 0)) return null;
    this.#look(this.#at, this.#seen);
    let damping = 1e-3;
    for (let round = 0; round < ROUNDS; round += 1) {
      this.#weigh();
      let cost = this.#swingsAreLong(this.#at) ? this.#cost(this.#at, this.#seen) : Number.POSITIVE_INFINITY;
      if (!Number.isFinite(cost)) return null;
      for (let step = 0; step < STEPS_A_ROUND; step += 1) {
        const { matrix, right } = this.#equations();
        let better = false;
        let gain = 0;
        for (let attempt = 0; attempt < 6 && !better; attempt += 1) {
          const next = this.#moved(matrix.factor(damping)?.solve(right));
          const nextCost = next === null ? Number.POSITIVE_INFINITY : this.#try(next);
          if (next !== null && nextCost <= cost) {
            better = true;
            this.#take(next);
            gain = cost - nextCost;
            cost = nextCost;
            damping = Math.max(damping / 10, 1e-9);
          } else {
            damping *= 10;
          }
        }
        if (!better) break;
        if (gain < 1e-4 * (1 + cost)) break;
      }
    }
    this.#weigh();
    return this.#report();
  }

  #moved(move: Float64Array | undefined): Float64Array | null {
    return move === undefined ? null : this.#at.map((value, index) => value + (move[index] as number));
  }

  /** Cost of other unknowns; what the model says there is kept for when they are taken. */
  #try(at: Float64Array): number {
    if (!this.#swingsAreLong(at)) return Number.POSITIVE_INFINITY;
    this.#look(at, this.#tried);
    return this.#cost(at, this.#tried);
  }

  /** Takes the unknowns that were tried last. */
  #take(at: Float64Array): void {
    const before = this.#seen;
    this.#at = at;
    this.#seen = this.#tried;
    this.#tried = before;
  }

  #swingsAreLong(at: Float64Array): boolean {
    for (let i = 0; i < this.#passes; i += 1) {
      const length = (at[PER_PASS * (i + 1)] as number) - (at[PER_PASS * i] as number);
      if (!(length > SHORTEST_SHARE * this.#meanMs)) return false;
    }
    return true;
  }

  /** Looks at every reading under the unknowns `at`. */
  #look(at: Float64Array, seen: Seen): void {
    const { tMs, um } = this.#run;
    let pass = 0;
    for (let k = 0; k < this.#readings; k += 1) {
      const t = tMs[k] as number;
      while (pass < this.#passes - 1 && t > (at[PER_PASS * (pass + 1)] as number)) pass += 1;
      const first = PER_PASS * pass;
      const from = at[first] as number;
      const end = at[first + 1] as number;
      const nextEnd = at[first + 4] as number;
      const length = (at[first + 3] as number) - from;
      const share = (t - from) / length;
      const cosine = Math.cos(Math.PI * share);
      const half = (end - nextEnd) / 2;
      const u = (end + nextEnd) / 2 + half * cosine;
      const byTilt = 2 * u + 4 * BEND_PER_UM * u * u * u;
      const byShare = -byTilt * half * Math.PI * Math.sin(Math.PI * share);
      const excess = u * u * (1 + BEND_PER_UM * u * u);
      seen.pass[k] = pass;
      seen.length[k] = length;
      seen.share[k] = share;
      seen.cosine[k] = cosine;
      seen.byTilt[k] = byTilt;
      seen.byShare[k] = byShare;
      seen.excess[k] = excess;
      seen.residual[k] = (um[k] as number) - (at[first + 2] as number) - excess;
    }
  }

  /** Variance of reading `k` where the fit stands now. */
  #variance(k: number): number {
    const { byShare, length, excess } = this.#seen;
    const slope = (byShare[k] as number) / (length[k] as number);
    return this.#floor + (slope * this.#stampMs) ** 2 + (this.#share * (excess[k] as number)) ** 2;
  }

  #weigh(): void {
    for (let k = 0; k < this.#readings; k += 1) {
      const variance = this.#variance(k);
      const far = Math.abs(this.#seen.residual[k] as number) / Math.sqrt(variance);
      this.#weights[k] = (far > HUBER ? HUBER / far : 1) / variance;
    }
  }

  #cost(at: Float64Array, { residual }: Seen): number {
    let cost = 0;
    for (let k = 0; k < this.#readings; k += 1) {
      cost += (this.#weights[k] as number) * (residual[k] as number) * (residual[k] as number);
    }
    for (const tie of this.#ties) cost += (sumOf(tie, at) / tie.deviation) ** 2;
    return cost;
  }

  #equations(): { matrix: BandedMatrix; right: Float64Array } {
    const at = this.#at;
    const { pass, length, share, cosine, byTilt, byShare, residual } = this.#seen;
    const matrix = new BandedMatrix(at.length, BAND);
    const right = new Float64Array(at.length);
    // Derivatives of a reading by the start, end and square reading of its pass, and by the start and end of the next.
    const partial = new Float64Array(5);
    partial[2] = 1;
    for (let k = 0; k < this.#readings; k += 1) {
      const first = PER_PASS * (pass[k] as number);
      partial[0] = ((byShare[k] as number) * ((share[k] as number) - 1)) / (length[k] as number);
      partial[1] = ((byTilt[k] as number) * (1 + (cosine[k] as number))) / 2;
      partial[3] = (-(byShare[k] as number) * (share[k] as number)) / (length[k] as number);
      partial[4] = ((byTilt[k] as number) * (1 - (cosine[k] as number))) / 2;
      const weight = this.#weights[k] as number;
      for (let a = 0; a < 5; a += 1) {
        const weighted = weight * (partial[a] as number);
        right[first + a] = (right[first + a] as number) + weighted * (residual[k] as number);
        matrix.addRow(first + a, first, partial, a + 1, weighted);
      }
    }
    for (const tie of this.#ties) {
      const { indices, factors, deviation } = tie;
      const weight = 1 / deviation ** 2;
      const value = sumOf(tie, at);
      for (let n = 0; n < indices.length; n += 1) {
        const index = indices[n] as number;
        const factor = factors[n] as number;
        right[index] = (right[index] as number) - weight * factor * value;
        for (let m = 0; m <= n; m += 1)
          matrix.add(index, indices[m] as number, weight * factor * (factors[m] as number));
      }
    }
    return { matrix, right };
  }

  #report(): RhythmFit | null {
    const factor = this.#equations().matrix.factor(0);
    if (factor === null) return null;
    const squareUm: number[] = [];
    const deviationUm: number[] = [];
    for (let i = 0; i < this.#passes; i += 1) {
      const unit = new Float64Array(this.#at.length);
      unit[PER_PASS * i + 2] = 1;
      squareUm.push(this.#at[PER_PASS * i + 2] as number);
      deviationUm.push(Math.sqrt(factor.solve(unit)[PER_PASS * i + 2] as number));
    }
    const { pass, residual } = this.#seen;
    const squares = new Float64Array(this.#passes);
    const counts = new Float64Array(this.#passes);
    let cost = 0;
    for (let k = 0; k < this.#readings; k += 1) {
      const variance = this.#variance(k);
      const square = ((residual[k] as number) * (residual[k] as number)) / variance;
      const at = pass[k] as number;
      squares[at] = (squares[at] as number) + square;
      counts[at] = (counts[at] as number) + 1;
      cost += Math.min(square, HUBER * HUBER) + Math.log(variance);
    }
    const misfit = Array.from(squares, (sum, i) => Math.sqrt(sum / Math.max(1, counts[i] as number)));
    return { squareUm, deviationUm, misfit, cost };
  }
}

/** What the model says of each reading, a column each: its pass, where it stands in it, and how it departs. */
interface Seen {
  readonly pass: Int32Array;
  readonly length: Float64Array;
  readonly share: Float64Array;
  readonly cosine: Float64Array;
  readonly byTilt: Float64Array;
  readonly byShare: Float64Array;
  readonly excess: Float64Array;
  readonly residual: Float64Array;
}

function newSeen(readings: number): Seen {
  const column = () => new Float64Array(readings);
  return {
    pass: new Int32Array(readings),
    length: column(),
    share: column(),
    cosine: column(),
    byTilt: column(),
    byShare: column(),
    excess: column(),
    residual: column(),
  };
}

/** A sum of unknowns times factors that is 0 but for `deviation`. */
interface Tie {
  readonly indices: readonly number[];
  readonly factors: readonly number[];
  readonly deviation: number;
}

/** What holds neighbours together. */
function tiesOf(passes: number, meanMs: number, meanEnd: number): Tie[] {
  const ties: Tie[] = [];
  for (let i = 0; i < passes; i += 1) {
    const time = PER_PASS * i;
    ties.push({ indices: [time + 1, time + 4], factors: [1, 1], deviation: SIDE_WANDER * meanEnd });
    if (i + 1 === passes) break;
    ties.push({ indices: [time, time + 3, time + 6], factors: [1, -2, 1], deviation: LENGTH_WANDER * meanMs });
    ties.push({ indices: [time + 1, time + 7], factors: [1, -1], deviation: END_WANDER * meanEnd });
  }
  return ties;
}

function sumOf({ indices, factors }: Tie, at: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < indices.length; n += 1) sum += (at[indices[n] as number] as number) * (factors[n] as number);
  return sum;
}
