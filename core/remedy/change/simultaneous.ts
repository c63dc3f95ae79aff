import normalCdf from "@stdlib/stats-base-dists-normal-cdf";

/** A quantity whose error is partly shared by all and partly its own; standard deviations in one unit. */
export interface PartlyShared {
  readonly shared: number;
  readonly own: number;
}

const STEP = 0.1;
const SPAN = 7;

/**
 * The factor k for which, of several normal errors with one shared part, none is beyond ±k of its own standard deviations
 * in all but `risk` (inside 0 … 1) of cases. Derived here: given the shared part z, the others are independent, so
 * P(none beyond) = ∫φ(z)·Π[Φ((k·s − c·z)/u) − Φ((−k·s − c·z)/u)]dz with s² = c² + u²; solved by halving. For errors that
 * share nothing it is Šidák's factor, for errors that share all the single one. 0 for no errors.
 */
export function simultaneousFactor(errors: readonly PartlyShared[], risk: number): number {
  if (errors.length === 0) return 0;
  let low = 0;
  let high = 10;
  for (let step = 0; step < 30; step += 1) {
    const middle = (low + high) / 2;
    if (1 - noneBeyond(errors, middle) > risk) low = middle;
    else high = middle;
  }
  return high;
}

function noneBeyond(errors: readonly PartlyShared[], factor: number): number {
  let sum = 0;
  let weights = 0;
  // The integrand is even in z.
  for (let z = 0; z <= SPAN; z += STEP) {
    const weight = Math.exp((-z * z) / 2) * (z === 0 ? 0.5 : 1);
    let product = 1;
    for (const { shared, own } of errors) {
      const limit = factor * Math.hypot(shared, own);
      product *=
        own === 0
          ? Number(Math.abs(shared * z) <= limit)
          : normalCdf((limit - shared * z) / own, 0, 1) - normalCdf((-limit - shared * z) / own, 0, 1);
      if (product === 0) break;
    }
    sum += weight * product;
    weights += weight;
  }
  return sum / weights;
}
