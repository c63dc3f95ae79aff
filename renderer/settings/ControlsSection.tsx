import { type ReactNode, useEffect, useId } from "react";
import { CONTROLS } from "../controls/controls.ts";
import { learn, useLearning } from "../controls/learning.ts";
import { keyName } from "../controls/walkKeys.ts";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import styles from "./settings.module.css";

/** Which key does what while hands are on a gauge. A foot switch that types is such a key. */
export function ControlsSection(): ReactNode {
  const keys = useStore((state) => state.settings.keys);
  const { wanted, refused } = useLearning();
  const id = useId();
  // Whoever leaves the place waits for no key any more.
  useEffect(() => () => learn(null), []);
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>Keys of the walk</h2>
      <p className={styles.note}>
        They work at Lifters, Zero and Bores, whatever has been clicked before. A foot switch that types does so as a
        key: choose its control, then step on it.
      </p>
      <div className={styles.controls}>
        {CONTROLS.map(({ control, word, does }) => {
          const waits = wanted?.by === "key" && wanted.control === control;
          return (
            <div key={control} className={styles.row}>
              <span className={styles.word}>{word}</span>
              <span className={styles.note}>{does}</span>
              <Button
                aria-label={`Key of ${word}: ${keyName(keys[control])}`}
                aria-pressed={waits}
                onClick={() => learn(waits ? null : { by: "key", control })}
              >
                {waits ? "press a key" : keyName(keys[control])}
              </Button>
            </div>
          );
        })}
      </div>
      <p className={styles.refused} role="status">
        {refused}
      </p>
    </section>
  );
}
