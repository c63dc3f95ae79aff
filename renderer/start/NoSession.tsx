import type { ReactNode } from "react";
import { Button } from "../parts/Button.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { useStore } from "../store/store.ts";
import { trySimulated } from "./openSession.ts";

/** A place that needs a session, while none is open. */
export function NoSession({ title }: { readonly title: string }): ReactNode {
  const goTo = useStore((state) => state.actions.goTo);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  return (
    <PlaceFrame
      title={title}
      next="No session is open. Begin a job, or go on with one that was left."
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
    />
  );
}
