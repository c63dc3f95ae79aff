import type { ReactNode } from "react";
import type { Place } from "../store/place.ts";
import { useStore } from "../store/store.ts";
import { Button } from "./Button.tsx";
import { PlaceFrame } from "./PlaceFrame.tsx";

/** A place of a session while none is open: what it would need, and the way there. */
export function NoSession({ place, next }: { readonly place: Place; readonly next: string }): ReactNode {
  const goTo = useStore((state) => state.actions.goTo);
  return (
    <PlaceFrame
      title={place}
      next={next}
      actions={
        <Button kind="main" onClick={() => goTo("Start")}>
          Go to Start
        </Button>
      }
    />
  );
}
