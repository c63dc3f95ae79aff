import type { ReactNode } from "react";
import styles from "./Details.module.css";

/** What is seldom needed, folded away behind its name. `open` unfolds it, as when something inside is wrong. */
export function Details({
  summary,
  open,
  children,
}: {
  readonly summary: string;
  readonly open?: boolean;
  readonly children: ReactNode;
}): ReactNode {
  return (
    <details className={styles.details} open={open || undefined}>
      <summary className={styles.summary}>{summary}</summary>
      {children}
    </details>
  );
}
