import type { ReactNode } from "react";
import type { SetAsideReason, Sweep } from "../../core/sweep/sweep.ts";
import styles from "./Sweeps.module.css";

/** Why a sweep does not count, in three words at most. */
export const WHY_IN_WORDS: Readonly<Record<SetAsideReason, string>> = {
  "too-quick": "rocked too quickly",
  "contact-lost": "contact was lost",
  outlier: "far from others",
  disagrees: "does not repeat",
  frozen: "reading stood still",
};

export interface SweepsProps {
  readonly sweeps: readonly Sweep[];
  /** How many must agree; the missing ones are drawn as empty places. */
  readonly wanted?: number;
}

/** One dot a sweep, oldest first: filled = kept, crossed = set aside, struck through = taken back. */
export function Sweeps({ sweeps, wanted = 0 }: SweepsProps): ReactNode {
  const kept = sweeps.filter((sweep) => sweep.use === "kept").length;
  const empty = Math.max(0, wanted - kept);
  const lastAside = sweeps.findLast((sweep) => sweep.use === "set aside");
  const last = sweeps[sweeps.length - 1];
  return (
    <div className={styles.sweeps}>
      <ol className={styles.dots} aria-label="Sweeps">
        {sweeps.map((sweep) => (
          <li key={sweep.tMs} className={styles.dot}>
            <SweepDot use={sweep.use} />
            <span className="unseen">{sweepInWords(sweep)}</span>
          </li>
        ))}
        {emptyPlaces(empty).map((place) => (
          <li key={place} className={styles.dot}>
            <SweepDot use="empty" />
            <span className="unseen">to come</span>
          </li>
        ))}
      </ol>
      {sweeps.some((sweep) => sweep.typed === true) ? <p>typed</p> : null}
      {lastAside !== undefined && lastAside === last && lastAside.why !== undefined ? (
        <p className={styles.why}>{WHY_IN_WORDS[lastAside.why]}</p>
      ) : null}
    </div>
  );
}

function emptyPlaces(count: number): string[] {
  return Array.from({ length: count }, (_, index) => `empty ${index}`);
}

/** A sweep in words for those who do not see the dot. */
export function sweepInWords(sweep: Sweep): string {
  return sweep.typed === true ? `${whatBecameOf(sweep)}, typed` : whatBecameOf(sweep);
}

function whatBecameOf(sweep: Sweep): string {
  if (sweep.use === "set aside") return sweep.why === undefined ? "set aside" : `set aside: ${WHY_IN_WORDS[sweep.why]}`;
  return sweep.use;
}

/** The mark of one sweep. */
export function SweepDot({ use }: { readonly use: Sweep["use"] | "empty" }): ReactNode {
  return (
    <svg viewBox="0 0 20 20" className={styles.mark} aria-hidden="true">
      {use === "kept" ? <circle cx="10" cy="10" r="7" fill="currentColor" /> : null}
      {use === "empty" ? (
        <circle cx="10" cy="10" r="6.5" fill="none" stroke="currentColor" strokeWidth="1" strokeDasharray="2 2.4" />
      ) : null}
      {use === "set aside" ? (
        <path d="M4 4 16 16M16 4 4 16" stroke="currentColor" strokeWidth="2.4" fill="none" />
      ) : null}
      {use === "struck" ? (
        <>
          <circle cx="10" cy="10" r="6.5" fill="none" stroke="currentColor" strokeWidth="1.4" />
          <path d="M1 10h18" stroke="currentColor" strokeWidth="2" />
        </>
      ) : null}
    </svg>
  );
}
