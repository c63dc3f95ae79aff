import type { ReactNode } from "react";
import styles from "../parts/drawing.module.css";

/** A bore gauge between two upright walls, tilted by so many degrees about the middle of the gap. For drawings only. */
export function GaugeInGap({
  x,
  y,
  gap,
  tilt,
  here = false,
}: {
  readonly x: number;
  readonly y: number;
  readonly gap: number;
  readonly tilt: number;
  readonly here?: boolean;
}): ReactNode {
  // Tilted, the contacts reach further along the head before they meet the walls: that is why it reads long.
  const half = gap / 2 / Math.cos((tilt * Math.PI) / 180);
  return (
    <g transform={`translate(${x} ${y}) rotate(${tilt})`}>
      <path d="M-5-74h10v66h-10z" className={styles.part} />
      <rect x="-17" y="-11" width="34" height="22" rx="3" className={styles.part} />
      <path d={`M-17 0h${-(half - 17)}M17 0h${half - 17}`} className={here ? styles.here : styles.thin} />
      <circle cx={-half + 4} cy="0" r="4" className={here ? styles.hereSolid : styles.solid} />
      <circle cx={half - 4} cy="0" r="4" className={here ? styles.hereSolid : styles.solid} />
    </g>
  );
}
