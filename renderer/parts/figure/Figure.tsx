import type { ReactNode } from "react";
import type { Nm } from "../../../core/length/nm.ts";
import { useStore } from "../../store/store.ts";
import styles from "./Figure.module.css";
import { type LengthKind, printLength } from "./printLength.ts";

export interface FigureProps {
  /** The length, nm, signed; null prints a dash. */
  readonly length: Nm | null;
  readonly kind?: LengthKind;
  /** Prints "+" before a positive length. */
  readonly sign?: boolean;
  /** Leaves the unit out, where a heading already says it. */
  readonly bare?: boolean;
  /** What a dash means here, for a screen reader. */
  readonly none?: string;
}

/** A length in the unit the person chose; it never wraps and is never cut. */
export function Figure({
  length,
  kind = "difference",
  sign = false,
  bare = false,
  none = "none yet",
}: FigureProps): ReactNode {
  const shown = useStore((state) => state.settings.unit);
  if (length === null) {
    return (
      <span className={styles.figure}>
        <span aria-hidden="true">–</span>
        <span className="unseen">{none}</span>
      </span>
    );
  }
  const printed = printLength(length, shown, kind, sign);
  return (
    <span className={styles.figure}>
      {printed.text.replace("-", "−")}
      {bare ? null : <span className={styles.unit}> {printed.unit}</span>}
    </span>
  );
}
