import type { Nm } from "../length/nm.ts";
import { toNm } from "../length/nm.ts";
import type { JudgedReference, Reference } from "./reference.ts";

/**
 * Says of each reference whether the zero held. References come in the order in which they closed.
 * A return check is compared with the reference before it, be that a zero or a return check: `returnNm` is this value
 * minus that one (nm, signed), and it held if |returnNm| is at most `zeroHoldNm` (included). A new zero holds by
 * definition, and so does a return check with nothing before it. An empty list gives an empty list.
 * Our choice: after a return that did not hold, the new value is the one that the next check is compared with, since
 * it is what the gauge reads in the micrometer from then on.
 */
export function judgeReferences(references: readonly Reference[], zeroHoldNm: Nm): JudgedReference[] {
  return references.map((reference, index) => {
    const before = references[index - 1];
    if (reference.kind === "zero" || before === undefined) return { ...reference, returnNm: toNm(0), held: true };
    const returnNm = toNm(reference.valueNm - before.valueNm);
    return { ...reference, returnNm, held: Math.abs(returnNm) <= zeroHoldNm };
  });
}
