import type { Verdict } from "../../core/fit/finding.ts";
import { verdictShape } from "../../core/report/verdictShape.ts";
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
  const shape = verdictShape(verdict, preferred, ring, tickSide);
  return (
    <g className={styles.mark}>
      <circle r={shape.circle.radius} className={shape.circle.filled ? styles.full : styles.ring} />
      {shape.filled.map((path) => (
        <path key={path} d={path} className={styles.full} />
      ))}
      {shape.tick === null ? null : <path d={shape.tick} className={styles.tick} />}
    </g>
  );
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
