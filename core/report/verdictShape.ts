import type { Verdict } from "../fit/finding.ts";

/** A verdict's mark about (0, 0), in the units of its drawing; paths in the syntax of SVG. */
export interface VerdictShape {
  readonly circle: { readonly radius: number; readonly filled: boolean };
  /** Closed paths filled with ink. */
  readonly filled: readonly string[];
  /** The tick of the preferred band, an open stroke; null without. */
  readonly tick: string | null;
}

/**
 * A verdict as a mark of a drawing, told apart by shape alone: an open ring is not measured; a full disc fits; arrows
 * pointing in at the ring, too tight; arrows pointing out, too loose; a half disc, undecided; a small tick beside it,
 * preferred. Drawn with a ring of radius `ring`; `tickSide` is where the tick stands, +1 right, -1 left.
 */
export function verdictShape(verdict: Verdict, preferred: boolean, ring: number, tickSide: 1 | -1 = 1): VerdictShape {
  const arrows = verdict === "too tight" || verdict === "too loose";
  const filled = arrows
    ? [arrow(ring, verdict === "too tight", 1), arrow(ring, verdict === "too tight", -1)]
    : verdict === "undecided"
      ? [`M ${-ring} 0 A ${ring} ${ring} 0 0 0 ${ring} 0 Z`]
      : [];
  const tick = `M ${tickSide === 1 ? ring * 1.05 : -ring * 2} ${-ring * 0.75} l ${ring * 0.3} ${ring * 0.35} l ${ring * 0.6} ${-ring * 0.8}`;
  return {
    circle: { radius: arrows ? ring * 0.72 : ring, filled: verdict === "fits" },
    filled,
    tick: preferred ? tick : null,
  };
}

/** One arrowhead on the given side of the ring, its point towards the ring (`inward`) or away from it. */
function arrow(ring: number, inward: boolean, side: 1 | -1): string {
  const near = ring * 0.95 * side;
  const far = ring * 1.85 * side;
  const half = ring * 0.62;
  const [point, base] = inward ? [near, far] : [far, near];
  return `M ${point} 0 L ${base} ${-half} L ${base} ${half} Z`;
}
