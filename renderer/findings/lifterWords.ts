import type { BoreFinding } from "../../core/fit/finding.ts";

type Fitted = Pick<BoreFinding, "name" | "lifter">;

/** The lifter that stands in a bore where it is another than its own; null otherwise. */
export function otherLifter({ name, lifter }: Fitted): string | null {
  return lifter !== null && lifter !== name ? lifter : null;
}

/** Which lifter the clearances of a bore are taken against, in words. */
export function lifterInWords(finding: Fitted): string {
  if (finding.lifter === null) return "the one the gauge was zeroed on; its own is not measured";
  const other = otherLifter(finding);
  return other === null ? `${finding.name}, its own` : `${other}, by the accepted pairing`;
}
