import type { ReactNode } from "react";
import styles from "../parts/drawing.module.css";

/** What a drawing of the zero is to show. */
export type ZeroScene = "zero" | "step-check";

/** The gauge rocked between the faces of the locked micrometer; for the step check the micrometer is opened first. */
export function ZeroDrawing({ scene, opened }: { readonly scene: ZeroScene; readonly opened?: string }): ReactNode {
  const words =
    scene === "zero"
      ? "The bore gauge between the faces of the locked micrometer, rocked to and fro in both directions."
      : `The micrometer opened by ${opened ?? "the step"}, locked again, and the gauge rocked once more.`;
  return (
    <svg viewBox="0 0 340 278" className={styles.drawing} role="img" aria-labelledby="zero-drawing">
      <title id="zero-drawing">{words}</title>
      {/* Frame, anvil, spindle, thimble. */}
      <path
        d="M62 150v-14h24v8h14v24H86v8h-6v14c0 34 28 50 70 50s70-16 70-50v-14h-6v-40h40v40h-8v14c0 52-42 76-96 76s-102-24-102-76z"
        className={styles.part}
      />
      <rect x="186" y="144" width="28" height="24" className={styles.part} />
      <rect x="254" y="138" width="60" height="36" className={styles.part} />
      <path d="M264 138v36M274 138v36M284 138v36M294 138v36M304 138v36" className={styles.thin} />
      <path d="M236 136v-12m-8 0h16" className={styles.here} />
      <text x="236" y="116" textAnchor="middle">
        locked
      </text>

      {/* The gauge: head with its two contacts, stem, dial. */}
      <g transform="rotate(-9 143 156)">
        <path d="M143 50v94" className={styles.hidden} />
      </g>
      <g transform="rotate(9 143 156)">
        <path d="M143 50v94" className={styles.hidden} />
      </g>
      <path d="M138 60h10v86h-10z" className={styles.part} />
      <rect x="122" y="142" width="42" height="28" rx="4" className={styles.part} />
      <path d="M122 156h-18M164 156h18" className={styles.here} />
      <circle cx="104" cy="156" r="5" className={styles.hereSolid} />
      <circle cx="182" cy="156" r="5" className={styles.hereSolid} />
      <circle cx="143" cy="38" r="26" className={styles.part} />
      <path d="M143 38l10-15" className={styles.thin} />
      <circle cx="143" cy="38" r="2.5" className={styles.solid} />

      {/* Rocking. */}
      <path d="M98 84a92 92 0 0 1 90 0" className={styles.here} />
      <path d="M98 84l12-1-6-10zM188 84l-12-1 6-10z" className={styles.hereSolid} />
      <text x="204" y="70">
        rock through
      </text>
      <text x="204" y="86">
        square
      </text>

      {scene === "step-check" ? (
        <>
          <path d="M258 192h40" className={styles.here} />
          <path d="M308 192l-12-6v12z" className={styles.hereSolid} />
          <text x="284" y="214" textAnchor="middle" fontWeight="600">
            open
          </text>
          <text x="284" y="231" textAnchor="middle" fontWeight="600">
            {opened ?? "the step"}
          </text>
        </>
      ) : null}
    </svg>
  );
}
