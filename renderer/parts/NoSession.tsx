import type { ReactNode } from "react";
import { PLACE_WORDS } from "../help/placeWords.ts";
import { trySimulated } from "../start/openSession.ts";
import type { Place } from "../store/place.ts";
import { useStore } from "../store/store.ts";
import { Button } from "./Button.tsx";
import styles from "./NoSession.module.css";
import { PlaceFrame } from "./PlaceFrame.tsx";

/** A place of a session while none is open: what happens here once one is, and every way to one. */
export function NoSession({
  place,
  next = "No session is open. Begin a job, or go on with one that was left.",
  children,
}: {
  readonly place: Place;
  readonly next?: string;
  /** What can be done here all the same. */
  readonly children?: ReactNode;
}): ReactNode {
  const goTo = useStore((state) => state.actions.goTo);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  return (
    <PlaceFrame
      title={place}
      next={next}
      actions={
        <>
          <Button kind="main" onClick={() => goTo("Job")}>
            New job
          </Button>
          <Button onClick={() => goTo("Start")}>Open a session</Button>
          <Button disabled={!mayAct} onClick={() => void trySimulated()}>
            Try it with simulated gauges
          </Button>
        </>
      }
    >
      <section className={styles.later} aria-labelledby="later-title">
        <h2 id="later-title">What happens here</h2>
        <p>{PLACE_WORDS[place]}</p>
      </section>
      {children}
    </PlaceFrame>
  );
}
