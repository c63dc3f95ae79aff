import { covariance, type Sized, uncertaintyOf, weighted } from "./errorSources.ts";

/** Fewer bores than this say nothing of what the others would show. Our choice. */
const FEWEST = 3;

/** What bores that nothing was done to show alike: the errors of the two settings, seen rather than guessed. */
export interface UntouchedLevel {
  readonly level: Sized;
  /** Indexes of the bores it rests on, in their order. */
  readonly from: readonly number[];
}

/**
 * The level of the bores that did not change, among bores measured under the same settings of the micrometer: whatever
 * those errors are, they are the same for all of them. Some bores may have changed without anyone's knowing, so it is the
 * level C that makes C²/u_c² + Σ min((x − C)²/u², far²) smallest: each bore beyond `far` of its own standard deviations
 * costs the same, however far it is, and C itself is judged by what the settings' errors may be. (Least squares with a
 * bound on each term: Huber, "Robust Statistics"; that it is bounded altogether and has a prior is our choice.)
 * Null with fewer than three such bores, or when more than half of them are away from the level.
 */
export function untouchedLevel(bores: readonly Sized[], far: number): UntouchedLevel | null {
  if (bores.length < FEWEST) return null;
  const sharedVariance = meanCovariance(bores);
  const points = bores
    .map((bore, index) => {
      const variance = Math.max(uncertaintyOf(bore).u ** 2 - sharedVariance, 1);
      return { index, x: bore.valueNm, weight: 1 / variance };
    })
    .sort((one, other) => one.x - other.x);
  const prior = 1 / Math.max(sharedVariance, 1);
  let best = { cost: Number.POSITIVE_INFINITY, level: 0 };
  for (let from = 0; from < points.length; from += 1) {
    let weight = prior;
    let sum = 0;
    for (let to = from; to < points.length; to += 1) {
      const point = points[to] as (typeof points)[number];
      weight += point.weight;
      sum += point.weight * point.x;
      const level = sum / weight;
      const cost = points.reduce(
        (total, each) => total + Math.min((each.x - level) ** 2 * each.weight, far ** 2),
        level ** 2 * prior,
      );
      if (cost < best.cost) best = { cost, level };
    }
  }
  const near = points.filter(({ x, weight }) => (x - best.level) ** 2 * weight <= far ** 2);
  if (near.length < FEWEST || near.length * 2 < points.length) return null;
  const from = near.map(({ index }) => index).sort((one, other) => one - other);
  const level = weighted(from.map((index) => ({ size: bores[index] as Sized, weight: 1 / from.length })));
  return { level, from };
}

/** Variance that the bores share, nm²: the mean of their covariances, two by two. */
export function meanCovariance(sizes: readonly Sized[]): number {
  let sum = 0;
  let pairs = 0;
  for (const [index, one] of sizes.entries()) {
    for (const other of sizes.slice(index + 1)) {
      sum += covariance(one, other);
      pairs += 1;
    }
  }
  return pairs === 0 ? 0 : Math.max(0, sum / pairs);
}
