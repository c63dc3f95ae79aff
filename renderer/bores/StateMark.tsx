import styles from "./bores.module.css";
import type { WalkState } from "./walkState.ts";

/** The state of the walk as a shape, each different from the others without any colour. */
export function StateMark({ kind }: { readonly kind: WalkState["kind"] }) {
  return (
    <svg viewBox="-12 -12 24 24" className={styles.stateMark} aria-hidden="true">
      <path d={SHAPES[kind]} />
    </svg>
  );
}

const SHAPES: Readonly<Record<WalkState["kind"], string>> = {
  // A gap between two faces: the station is open.
  open: "M -9 -10 V 10 M 9 -10 V 10",
  // The gap closed and underlined.
  kept: "M -9 -1 L -3 6 L 9 -9 M -10 11 H 10",
  // Three dots of a line not yet drawn.
  pending: "M -9 0 h 2 M -1 0 h 2 M 7 0 h 2",
  "not saved": "M 0 -11 L 11 10 H -11 Z M 0 -3 V 4 M 0 6 v 1.5",
  "no agreement": "M -10 -7 H 4 M -4 0 H 10 M -10 7 H 2",
  hold: "M -5 -10 V 10 M 5 -10 V 10 M -11 -10 H 11 M -11 10 H 11",
  "gauge lost": "M -11 0 H -4 M 4 0 H 11 M -4 -6 V 6 M 4 -6 V 6 M -2 -11 L 2 11",
  "no zero": "M 0 -10 A 7 10 0 1 0 0.1 -10 M -9 10 L 9 -10",
  "return check": "M 8 -6 A 10 10 0 1 0 10 3 M 8 -12 V -5 H 1",
  "not begun": "M -10 10 H 10 M -10 -10 H 10",
  complete: "M 0 -11 A 11 11 0 1 0 0.1 -11 M -5 0 L -1 5 L 6 -5",
};
