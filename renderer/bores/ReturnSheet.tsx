import type { ReactNode } from "react";
import { spokenBore, spokenPlace } from "../../core/block/spokenBore.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import { TypeByHand } from "../keyboard/TypeByHand.tsx";
import { gaugeOfPlace } from "../keyboard/typingGauge.ts";
import { Button } from "../parts/Button.tsx";
import { lengthText, printLength } from "../parts/figure/printLength.ts";
import { Sweeps } from "../parts/Sweeps.tsx";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";
import { lettersOf } from "./lettersOf.ts";
import { WalkTrace } from "./WalkTrace.tsx";

/** The zero measured again, in the middle of the walk and on the same screen: what to do and what came of it. */
export function ReturnSheet({
  job,
  view,
  stateLine,
  readOnly,
}: {
  readonly job: Job;
  readonly view: SessionView;
  readonly stateLine: ReactNode;
  readonly readOnly: boolean;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const { act } = useStore((state) => state.actions);
  const last = view.references[view.references.length - 1];
  // The check is closed once it stands among the references with the sweeps that are shown.
  const done =
    last !== undefined &&
    last.kind === "return" &&
    last.sweeps[0] !== undefined &&
    last.sweeps[0].tMs === view.referenceSweeps[0]?.tMs;
  const lifter = view.references.findLast((one) => one.kind === "zero")?.lifter ?? null;
  const moved = done ? printLength(last.returnNm, unit, "difference", true) : null;
  return (
    <>
      <h1 id="place-title" tabIndex={-1} className={styles.station}>
        <span className={styles.bore}>Return check.</span>{" "}
        <span>
          In the micrometer{lifter === null ? "" : `, locked at lifter ${lifter} (${spokenBore(lifter).toLowerCase()})`}
          .
        </span>
      </h1>
      {stateLine}
      {moved === null || last === undefined ? (
        <ol className={styles.steps}>
          <li>Leave the micrometer locked as it is; wipe its faces.</li>
          <li>Put the gauge between them and rock it through square, as for the zero.</li>
          <li>{job.sweepsPerStation} sweeps that agree settle it; the walk then goes on by itself.</li>
        </ol>
      ) : (
        <div className={styles.figureRow}>
          <p className={styles.clearance} style={lettersOf(moved.text)}>
            <span className="unseen">The zero came back by </span>
            <span className={styles.digits}>{moved.text.replace("-", "−")}</span>
          </p>
          <p className={styles.figureWords}>
            <span className={styles.unit}>{moved.unit}</span>
            <strong>{last.held ? "the zero held" : "the zero has moved"}</strong>
            <span>{lengthText(job.zeroHoldNm, unit)} allowed</span>
          </p>
        </div>
      )}
      {/* What came of the check needs the room once it is there; the plan then shows the next bore. */}
      {view.here === null || view.complete || done ? null : (
        <p className={styles.then}>
          Then on with <strong>{spokenBore(view.here.bore)}.</strong> {spokenPlace(view.here.place)}
        </p>
      )}
      <div className={styles.sweeps}>
        <Sweeps sweeps={view.referenceSweeps} wanted={done ? 0 : job.sweepsPerStation} />
      </div>
      {gaugeOfPlace(job, "Bores")?.source === "typed" ? <TypeByHand /> : <WalkTrace job={job} view={view} />}
      {view.guide.next === "bores" && !readOnly ? (
        <Button kind="main" size="walk" onClick={() => void act({ type: "step", step: "bores" })}>
          Go on with the bores
        </Button>
      ) : null}
    </>
  );
}
