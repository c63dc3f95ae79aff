import type { ReactNode } from "react";
import styles from "../parts/drawing.module.css";
import { GaugeInGap } from "./GaugeInGap.tsx";

const GAP = 86;
const AT = [
  { x: 90, tilt: -13, word: "tilted: reads long" },
  { x: 270, tilt: 0, word: "square: reads true" },
  { x: 450, tilt: 13, word: "tilted: reads long" },
] as const;

/** The gauge tilted, square and tilted in a bore, and below it the reading over the angle with its turning point. */
export function RockingDrawing(): ReactNode {
  return (
    <svg viewBox="0 0 540 352" className={styles.drawing} role="img" aria-labelledby="rocking-drawing">
      <title id="rocking-drawing">
        A bore gauge rocked in a bore: tilted to either side it spans further than the diameter and reads long; square
        it reads the diameter. Drawn over the angle the reading falls, turns at square, and rises again: the turning
        point is the one true reading.
      </title>
      {AT.map(({ x, tilt, word }) => (
        <g key={x}>
          <path d={`M${x - GAP / 2} 74v84M${x + GAP / 2} 74v84`} className={styles.part} />
          <path d={`M${x - GAP / 2 - 12} 74h12v84h-12M${x + GAP / 2 + 12} 74h-12v84h12`} className={styles.thin} />
          <path d={`M${x} 40v130`} className={styles.centre} />
          <GaugeInGap x={x} y={116} gap={GAP} tilt={tilt} here={tilt === 0} />
          <text x={x} y="24" textAnchor="middle" fontWeight={tilt === 0 ? 600 : 400}>
            {word}
          </text>
        </g>
      ))}

      {/* Reading over angle; each gauge above stands over its own point of the curve. */}
      <path d="M40 200v112h472" className={styles.thin} />
      <path d="M90 170v52M270 178v104M450 170v52" className={styles.hidden} />
      <path d="M60 205Q270 363 480 205" className={styles.thin} strokeWidth="2" />
      <circle cx="90" cy="226" r="4" className={styles.solid} />
      <circle cx="450" cy="226" r="4" className={styles.solid} />
      <circle cx="270" cy="284" r="6" className={styles.hereSolid} />
      <text x="284" y="304" fontWeight="600">
        turning point: kept
      </text>
      <text x="48" y="196">
        reading
      </text>
      <text x="512" y="330" textAnchor="end">
        angle
      </text>
      <text x="270" y="330" textAnchor="middle">
        square
      </text>
    </svg>
  );
}
