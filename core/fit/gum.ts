import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";

/** One input of a measurement: its standard uncertainty, how well that is known, and what it does to the result. */
export interface UncertainInput {
  readonly name: string;
  /** Standard uncertainty, in the input's own unit, not negative. */
  readonly u: number;
  /** Degrees of freedom of `u`, above 0; Infinity when taken as exact. */
  readonly degreesOfFreedom: number;
  /** Change of the result per unit of the input. */
  readonly sensitivity: number;
}

/** An input of a model function, with its estimate. */
export interface ModelInput {
  readonly name: string;
  readonly value: number;
  readonly u: number;
  readonly degreesOfFreedom: number;
}

export interface EvaluationOptions {
  /** Coverage probability of the expanded uncertainty, inside 0 … 1; 0.95 if not given. */
  readonly coverage?: number;
  /** Cut the effective degrees of freedom to whole ones, as GUM G.4.1 allows; otherwise t is taken between them. */
  readonly wholeDegrees?: boolean;
}

/** A combined and an expanded uncertainty, in the unit of the result. */
export interface Evaluation {
  /** |sensitivity|·u of each input, in the order given. */
  readonly contributions: readonly number[];
  readonly combined: number;
  /** Welch–Satterthwaite; Infinity when nothing uncertain has few. */
  readonly degreesOfFreedom: number;
  /** Student's factor. */
  readonly factor: number;
  readonly expanded: number;
  readonly coverage: number;
}

/**
 * Two-sided Student factor: the t that a fraction `coverage` (inside 0 … 1) lies within ±t of zero; the normal
 * factor for infinite degrees of freedom. Source: GUM (JCGM 100:2008) G.3.2, table G.2.
 */
export function coverageFactor(coverage: number, degreesOfFreedom: number): number {
  const p = 0.5 + coverage / 2;
  return Number.isFinite(degreesOfFreedom) ? tQuantile(p, degreesOfFreedom) : normalQuantile(p, 0, 1);
}

/**
 * Effective degrees of freedom of a sum of independent contributions, u_c⁴ / Σ(u_i⁴/ν_i). Infinity when no
 * contribution has finite ones. Source: GUM G.4.1, formula G.2b (Welch–Satterthwaite).
 */
export function effectiveDegreesOfFreedom(
  contributions: readonly number[],
  degreesOfFreedom: readonly number[],
): number {
  let denominator = 0;
  contributions.forEach((contribution, index) => {
    denominator += contribution ** 4 / (degreesOfFreedom[index] ?? Number.POSITIVE_INFINITY);
  });
  return denominator === 0 ? Number.POSITIVE_INFINITY : Math.hypot(...contributions) ** 4 / denominator;
}

/**
 * Cuts degrees of freedom to whole ones. Rounded to two places first, because a published 19.0 computes as 18.9987.
 * Below 1 they are left alone: cutting to 0 would leave no factor at all.
 */
function wholeDegreesOf(degreesOfFreedom: number): number {
  if (!Number.isFinite(degreesOfFreedom) || degreesOfFreedom < 1) return degreesOfFreedom;
  return Math.floor(Math.round(degreesOfFreedom * 100) / 100);
}

/**
 * Combines independent inputs to first order: u_c² = Σ(c_i·u_i)², ν_eff, U = t·u_c.
 * Source: GUM 5.1.2 (formula 10), G.4.1, G.6.4. With no inputs everything is 0 and ν_eff infinite.
 * @throws RangeError for a negative or infinite uncertainty, or degrees of freedom that are not above 0.
 */
export function combine(inputs: readonly UncertainInput[], options: EvaluationOptions = {}): Evaluation {
  for (const input of inputs) {
    if (!(input.u >= 0) || !Number.isFinite(input.u * input.sensitivity) || !(input.degreesOfFreedom > 0)) {
      throw new RangeError(
        `budget line "${input.name}": u ${input.u} with ${input.degreesOfFreedom} degrees of freedom and sensitivity ` +
          `${input.sensitivity}; expected u of 0 or more, finite, and degrees of freedom above 0`,
      );
    }
  }
  const coverage = options.coverage ?? 0.95;
  const contributions = inputs.map((input) => Math.abs(input.sensitivity) * input.u);
  const combined = Math.hypot(...contributions);
  const effective = effectiveDegreesOfFreedom(
    contributions,
    inputs.map((input) => input.degreesOfFreedom),
  );
  const degreesOfFreedom = options.wholeDegrees === true ? wholeDegreesOf(effective) : effective;
  const factor = coverageFactor(coverage, degreesOfFreedom);
  return { contributions, combined, degreesOfFreedom, factor, expanded: factor * combined, coverage };
}

/**
 * Evaluates a model at its estimates, with sensitivities taken as (f(x+u) − f(x−u))/2u. Source: GUM 5.1.3 note 2.
 * An input with u = 0 has sensitivity 0.
 */
export function evaluateModel(
  model: (values: readonly number[]) => number,
  inputs: readonly ModelInput[],
  options: EvaluationOptions = {},
): Evaluation & { readonly value: number } {
  const values = inputs.map((input) => input.value);
  const shifted = (index: number, by: number) => model(values.map((value, at) => (at === index ? value + by : value)));
  const lines = inputs.map((input, index) => ({
    name: input.name,
    u: input.u,
    degreesOfFreedom: input.degreesOfFreedom,
    sensitivity: input.u === 0 ? 0 : (shifted(index, input.u) - shifted(index, -input.u)) / (2 * input.u),
  }));
  return { value: model(values), ...combine(lines, options) };
}
