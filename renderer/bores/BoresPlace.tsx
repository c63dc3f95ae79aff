import { memo, type ReactNode, useCallback, useDeferredValue, useMemo } from "react";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { NoSession } from "../parts/NoSession.tsx";
import { BlockPlan } from "../plan/BlockPlan.tsx";
import { TurnButton } from "../plan/TurnButton.tsx";
import { useRoom } from "../plan/useRoom.ts";
import { Lamp } from "../sound/Lamp.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";
import { CompleteSheet } from "./CompleteSheet.tsx";
import { HeightPicture } from "./HeightPicture.tsx";
import { progressOf } from "./progress.ts";
import { ReturnSheet } from "./ReturnSheet.tsx";
import { StateMark } from "./StateMark.tsx";
import { StationSheet } from "./StationSheet.tsx";
import { useOnDisk } from "./useOnDisk.ts";
import { WaitSheet } from "./WaitSheet.tsx";
import { WalkControls } from "./WalkControls.tsx";
import { WalkNotices } from "./WalkNotices.tsx";
import { type WalkState, walkState } from "./walkState.ts";

/** Drawn again only when something of it changes, not with every reading. */
const Plan = memo(BlockPlan);

/** The walk: where the gauge goes now, what it says, and how far the block is. */
export function BoresPlace(): ReactNode {
  const job = useJob();
  const view = useStore((state) => state.view);
  if (job === null || view === null) {
    return <NoSession place="Bores" next="No session is open. Begin one, or open the one you were in." />;
  }
  return <Walk job={job} view={view} />;
}

function Walk({ job, view }: { readonly job: Job; readonly view: SessionView }): ReactNode {
  const seenFrom = useStore((state) => state.settings.seenFrom);
  const trouble = useStore((state) => state.saved.trouble);
  const readOnly = useStore((state) => (state.session?.readOnly ?? true) || !(state.info?.mayAct ?? true));
  const replayed = useStore((state) => state.clockMs !== null);
  const { act } = useStore((state) => state.actions);
  const { ref, size } = useRoom(300, 460);
  const onDisk = useOnDisk(view.here);
  const state = useMemo(() => walkState(view, job, trouble, onDisk), [view, job, trouble, onDisk]);
  const walking = view.step === "bores" && !view.complete && view.references.length > 0;
  const choose = useCallback((bore: string) => void act({ type: "go", bore }), [act]);
  const here = walking ? (view.here?.bore ?? null) : null;
  const hereClock = walking ? (view.here?.place.clock ?? null) : null;
  const next = walking ? view.nextBore : null;
  // The figure goes first; the plan follows when that is drawn.
  const marks = useDeferredValue(
    useMemo(() => ({ findings: view.bores, here, hereClock, next }), [view.bores, here, hereClock, next]),
  );
  return (
    <section className={styles.walk} aria-labelledby="place-title">
      <div className={styles.left} data-trouble={trouble === null ? undefined : true}>
        <div ref={ref} className={styles.plan}>
          <Plan
            layout={job.layout}
            {...marks}
            size={size}
            flip={seenFrom === "front"}
            showFiringOrder={job.walkKind === "firing"}
            {...(readOnly ? {} : { onChoose: choose })}
          />
        </div>
        <TitleBlock job={job} view={view} walking={walking} />
        <TurnButton size="walk" className={styles.flip} />
      </div>
      <div className={styles.right}>
        <Sheet job={job} view={view} state={state} readOnly={readOnly} />
        <WalkNotices view={view} />
      </div>
      {replayed ? null : <WalkControls held={view.held} disabled={readOnly} />}
    </section>
  );
}

interface SheetProps {
  readonly job: Job;
  readonly view: SessionView;
  readonly state: WalkState;
  readonly readOnly: boolean;
}

const Sheet = memo(function Sheet({ job, view, state, readOnly }: SheetProps): ReactNode {
  const line = <StateLine state={state} />;
  if (view.complete) return <CompleteSheet view={view} stateLine={line} />;
  if (view.step === "return") return <ReturnSheet job={job} view={view} stateLine={line} readOnly={readOnly} />;
  if (view.step !== "bores" || view.here === null || view.references.length === 0) {
    return <WaitSheet view={view} stateLine={line} readOnly={readOnly} />;
  }
  return <StationSheet job={job} view={view} here={view.here} stateLine={line} />;
});

/** The state of the walk and the light of the last tone, always at the same place. */
function StateLine({ state }: { readonly state: WalkState }): ReactNode {
  return (
    <div className={styles.stateLine} data-kind={state.kind}>
      <p className={styles.state} role="status">
        <StateMark kind={state.kind} />
        <span>
          <strong className={styles.stateWord}>{state.word}</strong>{" "}
          <span className={styles.stateMore}>{state.more}</span>
        </span>
      </p>
      <Lamp />
    </div>
  );
}

/** The title block of the drawing: how far the walk is, and what comes next. */
const TitleBlock = memo(function TitleBlock({
  job,
  view,
  walking,
}: {
  readonly job: Job;
  readonly view: SessionView;
  readonly walking: boolean;
}): ReactNode {
  const progress = progressOf(view, job);
  const inBore = walking && progress.bore !== null && progress.station !== null;
  return (
    <dl className={styles.titleBlock}>
      <div>
        <dt>{inBore ? "Bore" : "Bores done"}</dt>
        <dd>
          {inBore ? progress.bore : progress.measuredBores} of {progress.bores}
        </dd>
      </div>
      <div>
        <dt>{inBore ? "Station" : "Stations done"}</dt>
        <dd>
          {inBore ? progress.station : progress.measuredStations} of {inBore ? progress.stations : progress.allStations}
          {inBore && view.here !== null ? <HeightPicture place={view.here.place} /> : null}
        </dd>
      </div>
      <div>
        <dt>Next bore</dt>
        <dd>{walking ? (view.nextBore ?? "none") : view.step === "return" ? (view.here?.bore ?? "none") : "–"}</dd>
      </div>
    </dl>
  );
});
