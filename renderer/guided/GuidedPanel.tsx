import { type ReactNode, useEffect, useRef } from "react";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./GuidedPanel.module.css";
import { leaveGuided, showStage, useGuided } from "./guidedDesk.ts";
import { STAGES, type Stage } from "./stages.ts";

/** The guided try beside the place it speaks of; nothing while it is not going on or another session is open. */
export function GuidedPanel(): ReactNode {
  const { session, stage, shown } = useGuided();
  const openId = useStore((state) => state.session?.id ?? null);
  const view = useStore((state) => state.view);
  const job = useJob();
  const now = STAGES[stage];
  if (!shown || session === null || session !== openId || view === null || job === null || now === undefined)
    return null;
  return <StagePanel key={stage} stage={now} index={stage} view={view} job={job} />;
}

function StagePanel({
  stage,
  index,
  view,
  job,
}: {
  readonly stage: Stage;
  readonly index: number;
  readonly view: SessionView;
  readonly job: Job;
}): ReactNode {
  const place = useStore((state) => state.place);
  const working = useStore((state) => state.handsWork);
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const simulating = useStore((state) => state.session?.simulating ?? false);
  const { act, letHandsWork, goTo } = useStore((state) => state.actions);
  const heading = useRef<HTMLHeadingElement>(null);
  const { hands } = stage;
  const done = hands === undefined || hands.isDone(view);
  const next = STAGES[index + 1];

  // What happened is to be looked at before the next thing does.
  useEffect(() => {
    if (done && working) void letHandsWork(false);
  }, [done, working, letHandsWork]);

  const begin = async () => {
    if (hands === undefined) return;
    if (await act(hands.begin(job))) await letHandsWork(true, { alone: false });
  };
  return (
    <aside className={styles.panel} aria-labelledby="guided-title">
      <p className={styles.count}>
        Guided try, {index + 1} of {STAGES.length}. <strong>Simulated.</strong>
      </p>
      <h2 id="guided-title" ref={heading} tabIndex={-1}>
        {stage.place}: {stage.title}
      </h2>
      <p>{stage.happens}</p>
      <p>
        <strong>Look:</strong> {stage.look}
      </p>
      <div role="status" className={styles.status}>
        {hands === undefined ? null : done ? (
          <p>
            <strong>Done.</strong> {hands.done}
          </p>
        ) : working ? (
          <p>
            <strong>Wait.</strong> {hands.working}
          </p>
        ) : null}
        {simulating || done ? null : <p>Its simulated gauges are not connected. Begin the guided try anew at Start.</p>}
      </div>
      <div className={styles.buttons}>
        {done ? (
          next === undefined ? (
            <Button kind="main" onClick={() => endGuided(goTo)}>
              End it: a real block
            </Button>
          ) : (
            <Button kind="main" onClick={() => showStage(index + 1)}>
              {next.place === stage.place ? "Go on" : `Go on to ${next.place}`}
            </Button>
          )
        ) : working ? (
          <Button onClick={() => void letHandsWork(false)}>Stop the hands</Button>
        ) : (
          <Button kind="main" disabled={readOnly || !simulating} onClick={() => void begin()}>
            {hands?.button}
          </Button>
        )}
        {place === stage.place ? null : <Button onClick={() => goTo(stage.place)}>Back to {stage.place}</Button>}
        {index === 0 ? null : <Button onClick={() => showStage(index - 1)}>One back</Button>}
        <Button kind="quiet" onClick={leaveGuided}>
          Leave it for now
        </Button>
      </div>
      <p className={styles.soft}>Left now, it goes on from here: Start, Go on with the guided try.</p>
    </aside>
  );
}

/** Through: what is next is a block on the bench. */
function endGuided(goTo: (place: "Job") => void): void {
  useGuided.setState({ session: null, stage: 0, shown: false });
  goTo("Job");
}
