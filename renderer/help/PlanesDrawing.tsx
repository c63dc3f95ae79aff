import type { ReactNode } from "react";
import styles from "../parts/drawing.module.css";
import { GaugeInGap } from "./GaugeInGap.tsx";

/** In a bore the gauge is rocked one way, between the flat faces of a micrometer both ways. */
export function PlanesDrawing(): ReactNode {
  return (
    <svg viewBox="0 0 540 262" className={styles.drawing} role="img" aria-labelledby="planes-drawing">
      <title id="planes-drawing">
        In the bore the round wall and the centring foot hold the gauge on the diameter, so it is rocked in one plane,
        along the bore. In the micrometer the faces are flat and hold it in neither direction, so it is rocked in both
        planes until it is square both ways.
      </title>
      {/* The bore, cut open: one plane. */}
      <text x="130" y="20" textAnchor="middle" fontWeight="600">
        in the bore: one way
      </text>
      <path d="M74 110v104M186 110v104" className={styles.part} />
      <path d="M58 110h16v104H58M202 110h-16v104h16" className={styles.thin} />
      <ellipse cx="130" cy="110" rx="56" ry="13" className={styles.thin} />
      <path d="M130 48v186" className={styles.centre} />
      <GaugeInGap x={130} y={158} gap={112} tilt={0} />
      <path d="M92 70a84 84 0 0 1 76 0" className={styles.here} />
      <path d="M92 70l12-1-6-10zM168 70l-12-1 6-10z" className={styles.hereSolid} />
      <text x="130" y="252" textAnchor="middle">
        the round wall centres it the other way
      </text>

      {/* The micrometer: two planes. */}
      <text x="404" y="20" textAnchor="middle" fontWeight="600">
        in the micrometer: both ways
      </text>
      <path d="M290 138h60v40h-60zM458 138h60v40h-60z" className={styles.part} />
      <path d="M496 138v40M506 138v40" className={styles.thin} />
      <path d="M404 48v156" className={styles.centre} />
      <GaugeInGap x={404} y={158} gap={108} tilt={0} />
      <path d="M366 70a84 84 0 0 1 76 0" className={styles.here} />
      <path d="M366 70l12-1-6-10zM442 70l-12-1 6-10z" className={styles.hereSolid} />
      <ellipse cx="404" cy="104" rx="34" ry="10" className={styles.here} />
      <path d="M438 104l-9-7v13z" className={styles.hereSolid} />
      <text x="404" y="252" textAnchor="middle">
        flat faces hold it in neither
      </text>
    </svg>
  );
}
