import type { ReactNode } from "react";
import type { StepName } from "../../core/session/event.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { PLACE_OF_STEP } from "../store/place.ts";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";

const BEFORE: Readonly<Record<StepName, string>> = {
  lifters: "The lifters are being measured.",
  zero: "The zero is being taken.",
  "step-check": "The step check is being made.",
  bores: "The bores wait for a zero.",
  return: "A return check is being made.",
};

/** The bores before the walk has begun, or while the work is elsewhere: why it waits and the way on. */
export function WaitSheet({
  view,
  stateLine,
  readOnly,
}: {
  readonly view: SessionView;
  readonly stateLine: ReactNode;
  readonly readOnly: boolean;
}): ReactNode {
  const { act, goTo } = useStore((state) => state.actions);
  const zeroed = view.references.length > 0;
  const working = view.step === null ? "Bores" : PLACE_OF_STEP[view.step];
  // Where the sentence asks for something comes first; without a zero its place is offered in any case.
  const places = new Set(zeroed ? [working] : [working, "Zero" as const]);
  places.delete("Bores");
  return (
    <>
      <h1 id="place-title" tabIndex={-1} className={styles.station}>
        <span className={styles.bore}>Bores.</span>{" "}
        <span>{view.step === null ? "Nothing is begun yet." : BEFORE[view.step]}</span>
      </h1>
      {stateLine}
      <p className={styles.sentence}>{view.guide.sentence}</p>
      {readOnly ? null : (
        <div className={styles.ways}>
          {zeroed ? (
            <Button kind="main" size="walk" onClick={() => void act({ type: "step", step: "bores" })}>
              Go to the bores now
            </Button>
          ) : null}
          {[...places].map((place, index) => (
            <Button key={place} kind={zeroed || index > 0 ? "plain" : "main"} size="walk" onClick={() => goTo(place)}>
              Go to {place}
            </Button>
          ))}
        </div>
      )}
    </>
  );
}
