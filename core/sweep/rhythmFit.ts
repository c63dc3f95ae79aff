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
/**
 * Share of the excess over square by which a hand departs from half a cosine, for a pass of `SHARE_SAMPLES` readings; it
 * grows with the root of their number, since what the model lacks does not average out. Our choice, by the simulated bench.
 */
const MODEL_SHARE = 0.06;
const SHARE_SAMPLES = 7;
/**
 * How much neighbouring lengths, ends on the same side, and ends on both sides differ, relative standard deviations.
 * Derived here from rhythm and amplitude that wander by 15 % (the requirement's figure): two of them differ by √2·15 % =
 * 21 %. Ends on both sides differ besides by twice the offset of the swing, 15 % of its amplitude (our choice, by the
 * simulated bench): together 37 %.
 */
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
  /** The equations of one step, their factor and their answer: a step overwrites those of the step before. */
  readonly #matrix: BandedMatrix;
  readonly #factor: BandedMatrix;
  readonly #right: Float64Array;
  readonly #move: Float64Array;

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
    const unknowns = PER_PASS * passes + 2;
    this.#matrix = new BandedMatrix(unknowns, BAND);
    this.#factor = new BandedMatrix(unknowns, BAND);
    this.#right = new Float64Array(unknowns);
    this.#move = new Float64Array(unknowns);

    const at = new Float64Array(unknowns);
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
        this.#setEquations();
        let better = false;
        let gain = 0;
        for (let attempt = 0; attempt < 6 && !better; attempt += 1) {
          const next = this.#moved(damping);
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

  /** Where the step that solves the equations leads; null where they have no answer. */
  #moved(damping: number): Float64Array | null {
    const move = this.#matrix.factor(damping, this.#factor)?.solve(this.#right, this.#move);
    if (move === undefined) return null;
    const next = new Float64Array(move.length);
    for (let n = 0; n < next.length; n += 1) next[n] = (this.#at[n] as number) + (move[n] as number);
    return next;
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
    let k = 0;
    for (let pass = 0; pass < this.#passes; pass += 1) {
      const first = PER_PASS * pass;
      const from = at[first] as number;
      const end = at[first + 1] as number;
      const square = at[first + 2] as number;
      const nextEnd = at[first + 4] as number;
      const until = pass === this.#passes - 1 ? Number.POSITIVE_INFINITY : (at[first + 3] as number);
      const length = (at[first + 3] as number) - from;
      const middle = (end + nextEnd) / 2;
      const half = (end - nextEnd) / 2;
      for (; k < this.#readings; k += 1) {
        const t = tMs[k] as number;
        if (t > until) break;
        const share = (t - from) / length;
        const cosine = Math.cos(Math.PI * share);
        const u = middle + half * cosine;
        const byTilt = 2 * u + 4 * BEND_PER_UM * u * u * u;
        const excess = u * u * (1 + BEND_PER_UM * u * u);
        seen.pass[k] = pass;
        seen.length[k] = length;
        seen.share[k] = share;
        seen.cosine[k] = cosine;
        seen.byTilt[k] = byTilt;
        seen.byShare[k] = -byTilt * half * Math.PI * Math.sin(Math.PI * share);
        seen.excess[k] = excess;
        seen.residual[k] = (um[k] as number) - square - excess;
      }
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

  #setEquations(): void {
    this.#matrix.clear();
    this.#right.fill(0);
    for (let from = 0; from < this.#readings; ) from = this.#addPass(from);
    for (const tie of this.#ties) {
      const { indices, factors, deviation } = tie;
      const weight = 1 / deviation ** 2;
      const value = sumOf(tie, this.#at);
      for (let n = 0; n < indices.length; n += 1) {
        const index = indices[n] as number;
        const factor = factors[n] as number;
        this.#right[index] = (this.#right[index] as number) - weight * factor * value;
        for (let m = 0; m <= n; m += 1)
          this.#matrix.add(index, indices[m] as number, weight * factor * (factors[m] as number));
      }
    }
  }

  /**
   * Adds the readings of one pass to the equations, from reading `from` on, and returns where the next pass begins.
   * The twenty sums are held apart while they grow: nearly all of the time of a fit is spent here.
   */
  #addPass(from: number): number {
    const { pass, length, share, cosine, byTilt, byShare, residual } = this.#seen;
    const { rows } = this.#matrix;
    const right = this.#right;
    const at = pass[from] as number;
    const first = PER_PASS * at;
    // Element (i, j) of the matrix is at rows[i · (BAND + 1) + i − j]; these are the diagonal ones.
    const d0 = first * (BAND + 1);
    const d1 = d0 + BAND + 1;
    const d2 = d1 + BAND + 1;
    const d3 = d2 + BAND + 1;
    const d4 = d3 + BAND + 1;
    let r0 = right[first] as number;
    let r1 = right[first + 1] as number;
    let r2 = right[first + 2] as number;
    let r3 = right[first + 3] as number;
    let r4 = right[first + 4] as number;
    let m00 = rows[d0] as number;
    let m10 = rows[d1 + 1] as number;
    let m11 = rows[d1] as number;
    let m20 = rows[d2 + 2] as number;
    let m21 = rows[d2 + 1] as number;
    let m22 = rows[d2] as number;
    let m30 = rows[d3 + 3] as number;
    let m31 = rows[d3 + 2] as number;
    let m32 = rows[d3 + 1] as number;
    let m33 = rows[d3] as number;
    let m40 = rows[d4 + 4] as number;
    let m41 = rows[d4 + 3] as number;
    let m42 = rows[d4 + 2] as number;
    let m43 = rows[d4 + 1] as number;
    let m44 = rows[d4] as number;
    let k = from;
    for (; k < this.#readings && pass[k] === at; k += 1) {
      // Derivatives of a reading by the start and end of its pass and of the next; that by its square reading is 1.
      const p0 = ((byShare[k] as number) * ((share[k] as number) - 1)) / (length[k] as number);
      const p1 = ((byTilt[k] as number) * (1 + (cosine[k] as number))) / 2;
      const p3 = (-(byShare[k] as number) * (share[k] as number)) / (length[k] as number);
      const p4 = ((byTilt[k] as number) * (1 - (cosine[k] as number))) / 2;
      const weight = this.#weights[k] as number;
      const off = residual[k] as number;
      const w0 = weight * p0;
      const w1 = weight * p1;
      const w3 = weight * p3;
      const w4 = weight * p4;
      r0 += w0 * off;
      r1 += w1 * off;
      r2 += weight * off;
      r3 += w3 * off;
      r4 += w4 * off;
      m00 += w0 * p0;
      m10 += w1 * p0;
      m11 += w1 * p1;
      m20 += weight * p0;
      m21 += weight * p1;
      m22 += weight;
      m30 += w3 * p0;
      m31 += w3 * p1;
      m32 += w3;
      m33 += w3 * p3;
      m40 += w4 * p0;
      m41 += w4 * p1;
      m42 += w4;
      m43 += w4 * p3;
      m44 += w4 * p4;
    }
    right[first] = r0;
    right[first + 1] = r1;
    right[first + 2] = r2;
    right[first + 3] = r3;
    right[first + 4] = r4;
    rows[d0] = m00;
    rows[d1 + 1] = m10;
    rows[d1] = m11;
    rows[d2 + 2] = m20;
    rows[d2 + 1] = m21;
    rows[d2] = m22;
    rows[d3 + 3] = m30;
    rows[d3 + 2] = m31;
    rows[d3 + 1] = m32;
    rows[d3] = m33;
    rows[d4 + 4] = m40;
    rows[d4 + 3] = m41;
    rows[d4 + 2] = m42;
    rows[d4 + 1] = m43;
    rows[d4] = m44;
    return k;
  }

  #report(): RhythmFit | null {
    this.#setEquations();
    const factor = this.#matrix.factor(0, this.#factor);
    if (factor === null) return null;
    const squareUm: number[] = [];
    const deviationUm: number[] = [];
    for (let i = 0; i < this.#passes; i += 1) {
      const unit = this.#right.fill(0);
      unit[PER_PASS * i + 2] = 1;
      squareUm.push(this.#at[PER_PASS * i + 2] as number);
      deviationUm.push(Math.sqrt(factor.solve(unit, this.#move)[PER_PASS * i + 2] as number));
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
