import type { Limits } from "../../core/fit/finding.ts";
import type { Nm } from "../../core/length/nm.ts";
import styles from "./limitsBar.module.css";
import { inLimits, limitsScale, type Spot, spotOf } from "./limitsScale.ts";

export interface LimitsBarProps {
  readonly limits: Limits;
  /** The clearance, nm; null before there is one. */
  readonly value: Nm | null;
  /** The live clearance, nm, drawn as a thin mark; null while there is none. */
  readonly live: Nm | null;
  /** Prints a limit. */
  readonly print: (length: Nm) => string;
}

const WIDTH = 1000;
const BAND_TOP = 26;
const BAND = 22;

/**
 * The limits drawn to scale as one dimension: what is allowed between two witness lines, the preferred band filled in,
 * the value as a pointer above. A value off the scale is an arrowhead at that end.
 */
export function LimitsBar({ limits, value, live, print }: LimitsBarProps) {
  const scale = limitsScale(limits);
  const x = (nm: number) => spotOf(nm, scale).at * WIDTH;
  const low = x(limits.lowNm);
  const high = x(limits.highNm);
  const { preferredLowNm, preferredHighNm } = limits;
  const hasPreferred = preferredLowNm !== null && preferredHighNm !== null;
  const says = value === null ? "no clearance yet" : `${print(value)}, ${inLimits(value, limits)}`;
  return (
    <div
      className={styles.bar}
      role="img"
      aria-label={`Limits ${print(limits.lowNm)} to ${print(limits.highNm)}: ${says}`}
    >
      <svg viewBox={`0 0 ${WIDTH} 56`} preserveAspectRatio="none" className={styles.drawing} aria-hidden="true">
        <path d={`M 0 ${BAND_TOP + BAND / 2} H ${WIDTH}`} className={styles.line} />
        <rect x={low} y={BAND_TOP} width={high - low} height={BAND} className={styles.allowed} />
        {hasPreferred && (
          <rect
            x={x(preferredLowNm)}
            y={BAND_TOP}
            width={x(preferredHighNm) - x(preferredLowNm)}
            height={BAND}
            className={styles.preferred}
          />
        )}
        <path d={`M ${low} ${BAND_TOP - 8} V 56 M ${high} ${BAND_TOP - 8} V 56`} className={styles.witness} />
        {live !== null && spotOf(live, scale).beyond === null && (
          <path d={`M ${x(live)} ${BAND_TOP - 4} V ${BAND_TOP + BAND + 4}`} className={styles.live} />
        )}
      </svg>
      {value !== null && <Pointer spot={spotOf(value, scale)} />}
      <span className={styles.low} style={{ left: `${low / 10}%` }}>
        {print(limits.lowNm)}
      </span>
      <span className={styles.high} style={{ left: `${high / 10}%` }}>
        {print(limits.highNm)}
      </span>
      {hasPreferred && (
        <span className={styles.word} style={{ left: `${(x(preferredLowNm) + x(preferredHighNm)) / 20}%` }}>
          preferred
        </span>
      )}
    </div>
  );
}

/** A pointer down at the value, or an arrowhead at the end beyond which it lies. */
const POINTERS = {
  none: { box: "-22 -18 44 36", path: "M -10 -16 H 10 L 0 4 Z" },
  above: { box: "-22 -18 22 36", path: "M -20 -14 L -1 0 L -20 14 Z" },
  below: { box: "0 -18 22 36", path: "M 20 -14 L 1 0 L 20 14 Z" },
} as const;

function Pointer({ spot }: { readonly spot: Spot }) {
  const kind = spot.beyond ?? "none";
  return (
    <svg
      viewBox={POINTERS[kind].box}
      className={styles.pointer}
      data-beyond={kind}
      style={{ left: `${spot.at * 100}%` }}
      aria-hidden="true"
    >
      <path d={POINTERS[kind].path} />
    </svg>
  );
}
