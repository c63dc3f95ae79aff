import type { ReactNode } from "react";
import styles from "./PlaceFrame.module.css";

export interface PlaceFrameProps {
  readonly title: string;
  /** The one thing to do next, a sentence. */
  readonly next?: ReactNode;
  /** The button or two that belong to it. */
  readonly actions?: ReactNode;
  readonly children?: ReactNode;
}

/** A place: its heading, the one thing to do next, and its work below. */
export function PlaceFrame({ title, next, actions, children }: PlaceFrameProps): ReactNode {
  return (
    <section className={styles.place} aria-labelledby="place-title">
      <header className={styles.head}>
        <div className={styles.words}>
          <h1 id="place-title" tabIndex={-1}>
            {title}
          </h1>
          {next ? <p className={styles.next}>{next}</p> : null}
        </div>
        {actions ? <div className={styles.actions}>{actions}</div> : null}
      </header>
      {children}
    </section>
  );
}
