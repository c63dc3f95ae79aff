import type { Verdict } from "../../core/fit/finding.ts";
import styles from "./plan.module.css";

/**
 * A verdict as a mark of a drawing, told apart by shape alone: an open ring is not measured; a full disc fits; arrows
 * pointing in at the ring, too tight; arrows pointing out, too loose; a half disc, undecided; a tick beside it,
 * preferred. Drawn about (0, 0) with a ring of radius `ring`.
 */
export function VerdictMark({
  verdict,
  preferred,
  ring,
  tickSide = 1,
}: {
  readonly verdict: Verdict;
  readonly preferred: boolean;
  readonly ring: number;
  /** On which side the tick stands: +1 right, -1 left. */
  readonly tickSide?: 1 | -1;
}) {
  const arrows = verdict === "too tight" || verdict === "too loose";
  const small = arrows ? ring * 0.72 : ring;
  return (
    <g className={styles.mark}>
      <circle r={small} className={verdict === "fits" ? styles.full : styles.ring} />
      {verdict === "undecided" && (
        <path d={`M ${-ring} 0 A ${ring} ${ring} 0 0 0 ${ring} 0 Z`} className={styles.full} />
      )}
      {arrows && (
        <>
          <path d={arrow(ring, verdict === "too tight", 1)} className={styles.full} />
          <path d={arrow(ring, verdict === "too tight", -1)} className={styles.full} />
        </>
      )}
      {preferred && (
        <path
          d={`M ${tickSide === 1 ? ring * 1.05 : -ring * 2} ${-ring * 0.75} l ${ring * 0.3} ${ring * 0.35} l ${ring * 0.6} ${-ring * 0.8}`}
          className={styles.tick}
        />
      )}
    </g>
  );
}

/** One arrowhead on the given side of the ring, its point towards the ring (`inward`) or away from it. */
function arrow(ring: number, inward: boolean, side: 1 | -1): string {
  const near = ring * 0.95 * side;
  const far = ring * 1.85 * side;
  const half = ring * 0.62;
  const [point, base] = inward ? [near, far] : [far, near];
  return `M ${point} 0 L ${base} ${-half} L ${base} ${half} Z`;
}

/** The same mark as a small picture in running text; the word always stands beside it. */
export function VerdictPicture({
  verdict,
  preferred = false,
  size = "1.4em",
}: {
  verdict: Verdict;
  preferred?: boolean;
  size?: string;
}) {
  return (
    <svg
      viewBox="-22 -13 44 26"
      style={{ height: size, width: `calc(${size} * 44 / 26)`, flex: "none" }}
      aria-hidden="true"
    >
      <VerdictMark verdict={verdict} preferred={preferred} ring={10} />
    </svg>
  );
}
