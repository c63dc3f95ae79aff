import type { ReactNode } from "react";
import styles from "../parts/drawing.module.css";

/** Where the micrometer goes: on the full-diameter bands, clear of the oil groove and its hole. */
export function LifterDrawing(): ReactNode {
  return (
    <svg viewBox="0 0 320 250" className={styles.drawing} role="img" aria-labelledby="lifter-drawing">
      <title id="lifter-drawing">
        A lifter from the side. Measure on the full-diameter band above the oil groove or below it, never on the groove
        or a hole.
      </title>
      <path d="M160 14v222" className={styles.centre} />
      <path d="M120 28h80v62h-5v26h5v98l-4 6h-72l-4-6v-98h5v-26h-5z" className={styles.part} />
      <path d="M125 90h70M125 116h70" className={styles.thin} />
      <circle cx="160" cy="103" r="6" className={styles.thin} />
      <path d="M133 28v14h54v-14" className={styles.hidden} />

      <Band y={60} />
      <Band y={170} />
      <text x="228" y="64">
        upper band
      </text>
      <text x="228" y="174">
        lower band
      </text>
      <path d="M174 103h50" className={styles.thin} />
      <text x="228" y="101">
        groove, hole:
      </text>
      <text x="228" y="117">
        not here
      </text>
    </svg>
  );
}

/** The two faces of the micrometer at a height. */
function Band({ y }: { readonly y: number }): ReactNode {
  return (
    <>
      <rect x="96" y={y - 9} width="24" height="18" className={styles.hereSolid} />
      <rect x="200" y={y - 9} width="24" height="18" className={styles.hereSolid} />
      <path d={`M60 ${y}h36`} className={styles.thin} />
      <path d={`M96 ${y}l-9-4v8z`} className={styles.solid} />
    </>
  );
}
