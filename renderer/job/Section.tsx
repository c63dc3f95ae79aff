import { type ReactNode, useId } from "react";
import styles from "./JobPlace.module.css";

/** A numbered part of the job sheet. */
export function Section({
  number,
  title,
  note,
  children,
}: {
  readonly number: number;
  readonly title: string;
  readonly note?: ReactNode;
  readonly children: ReactNode;
}): ReactNode {
  const id = useId();
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>
        <span className={styles.number}>{number}</span> {title}
      </h2>
      {note ? <p className={styles.note}>{note}</p> : null}
      <div className={styles.fields}>{children}</div>
    </section>
  );
}
