/** Correct significant digits of a value beside its reference, −log10 of the relative error; at most 16. */
export function significantDigits(value: number | null | undefined, reference: number): number {
  const error = Math.abs((value ?? Number.NaN) - reference) / Math.abs(reference);
  return error === 0 ? 16 : Math.min(16, -Math.log10(error));
}
