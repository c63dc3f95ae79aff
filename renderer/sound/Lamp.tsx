import { useEffect, useState } from "react";
import styles from "./lamp.module.css";
import { LIGHT_WORDS, useLight } from "./light.ts";
import type { ToneName } from "./score.ts";

/** How long a light stays on, ms. */
const LIT_MS = 1600;

/** The light that goes with every tone: a shape and a word of its own for each, always at the same place. */
export function Lamp() {
  const { tone, count } = useLight();
  const [lit, setLit] = useState(0);
  useEffect(() => {
    if (count === 0) return;
    setLit(count);
    const timer = setTimeout(() => setLit(0), LIT_MS);
    return () => clearTimeout(timer);
  }, [count]);
  const on = tone !== null && lit === count && count > 0;
  return (
    <p className={styles.lamp} data-on={on} data-tone={on ? tone : undefined} aria-hidden="true">
      <svg viewBox="-12 -12 24 24" className={styles.shape} aria-hidden="true">
        {on && tone !== null ? <ToneShape tone={tone} /> : <circle r="3" className={styles.off} />}
      </svg>
      <span>{on && tone !== null ? LIGHT_WORDS[tone] : ""}</span>
    </p>
  );
}

/** The light's shape, 24 units wide about its middle. */
export function ToneShape({ tone }: { tone: ToneName }) {
  switch (tone) {
    case "sweep":
      return <circle r="5" className={styles.solid} />;
    case "kept":
      return <path d="M -9 0 L -3 7 L 9 -8" className={styles.line} />;
    case "opened":
      return <rect x="-8" y="-8" width="16" height="16" className={styles.line} />;
    case "bore":
      return <path d="M -9 -9 L 0 0 L -9 9 M 1 -9 L 10 0 L 1 9" className={styles.line} />;
    case "strike":
      return <path d="M -10 0 H 10 M -4 -6 L -10 0 L -4 6" className={styles.line} />;
    case "outside":
      return <path d="M -9 -10 V 10 M 9 -10 V 10 M -4 0 H 4" className={styles.line} />;
    case "return":
      return <path d="M 8 -6 A 10 10 0 1 0 10 3 M 8 -12 V -5 H 1" className={styles.line} />;
    case "hold":
      return <path d="M -5 -9 V 9 M 5 -9 V 9" className={styles.line} />;
    case "trouble":
      return <path d="M 0 -11 L 11 9 H -11 Z" className={styles.solid} />;
    case "complete":
      return (
        <>
          <circle r="10" className={styles.line} />
          <circle r="4" className={styles.solid} />
        </>
      );
  }
}
