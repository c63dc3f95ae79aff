import { type Nm, toNm } from "../length/nm.ts";
import { parseLength } from "../length/parseLength.ts";

/** Lifter body sizes in common use, nominal, smallest first. Common practice, no source. */
const STANDARD_BODIES: readonly Nm[] = ["0.842 in", "0.875 in", "0.904 in", "0.937 in"].map(parseLength);

/** Sizes closer than this are one and the same body, nm: a maker's tolerance, far below the step between bodies. Our choice. */
const SAME_BODY_NM = 50_000;

/**
 * Bodies larger than the present nominal one (nm), smallest first; `own` is one that the user names, listed among them
 * whatever its size.
 */
export function largerBodies(nominalNm: Nm, own: Nm | null = null): readonly Nm[] {
  const standard = STANDARD_BODIES.filter((body) => body > nominalNm + SAME_BODY_NM);
  if (own === null) return standard;
  return [...standard.filter((body) => body !== own), own].sort((a, b) => a - b).map(toNm);
}
