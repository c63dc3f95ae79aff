/**
 * A length as an integer count of nanometres. Signed; any unit the user sees is converted at the edge.
 * One inch is exactly 25 400 000 nm (25.4 mm by definition, international yard and pound agreement of 1959),
 * so every gauge graduation down to 0.000005 in (127 nm) is exact.
 */
export type Nm = number & { readonly __unit: "nm" };

/** Nanometres in one inch, exact. */
export const NM_PER_INCH = 25_400_000;
/** Nanometres in one millimetre, exact. */
export const NM_PER_MM = 1_000_000;
/** Nanometres in one micrometre, exact. */
export const NM_PER_UM = 1_000;

/**
 * Rounds a computed length (nm, signed) to the nearest whole nanometre, halves away from zero.
 * This is the one place where a fitted value becomes a recorded one.
 * @throws RangeError if the value is not finite or is beyond ±2^53 nm (9 km): a computation went wrong.
 */
export function toNm(nanometres: number): Nm {
  const rounded = nanometres < 0 ? -Math.round(-nanometres) : Math.round(nanometres);
  if (!Number.isSafeInteger(rounded)) throw new RangeError(`not a length in nanometres: ${nanometres}`);
  return (rounded === 0 ? 0 : rounded) as Nm;
}
