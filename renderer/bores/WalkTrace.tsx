import { type ReactNode, useCallback, useEffect, useRef } from "react";
import type { Nm } from "../../core/length/nm.ts";
import type { Job } from "../../core/session/job.ts";
import type { SessionView } from "../../core/session/view.ts";
import type { Sweep } from "../../core/sweep/sweep.ts";
import { printLength } from "../parts/figure/printLength.ts";
import { useStore, useStoreApi } from "../store/store.ts";
import { LiveTrace } from "../trace/LiveTrace.tsx";
import { recentSweeps } from "../trace/recentSweeps.ts";
import styles from "./bores.module.css";

/** The live trace of the bore gauge with the turning points of the last sweeps. */
export function WalkTrace({ job, view }: { readonly job: Job; readonly view: SessionView }): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const gauge = job.gauges.find((one) => one.role === "bore")?.id ?? "";
  const open = view.step === "bores" ? (view.here?.sweeps ?? NONE) : view.referenceSweeps;
  const sweeps = useRecentSweeps(open);
  const store = useStoreApi();
  const readings = useCallback(() => store.getState().trace.get(gauge)?.readings() ?? [], [gauge, store]);
  const clockMs = useCallback(() => store.getState().clockMs, [store]);
  return (
    <div className={styles.traceBox}>
      <LiveTrace
        readings={readings}
        sweeps={sweeps}
        working={view.workingRange}
        clockMs={clockMs}
        print={(length: Nm) => printLength(length, unit).text}
        steps={unit === "mm" || unit === "um" ? STEPS_MM : STEPS_IN}
        label="Live trace of the bore gauge, last 20 seconds; the turning point of each sweep is marked"
      />
      <p className={styles.traceWord} aria-hidden="true">
        gauge reading, {printLength(0 as Nm, unit).unit}
      </p>
    </div>
  );
}

/** Steps that are round in millimetres and in inches, nm. */
const STEPS_MM = [1, 2, 5, 10, 20, 50, 100, 200].map((um) => um * 1000);
const STEPS_IN = [0.5, 1, 2, 5, 10, 20, 50].map((tenths) => tenths * 2540);

const NONE: readonly Sweep[] = [];

/** The sweeps of the open station and those that came as outcomes before it, without drawing the page again. */
function useRecentSweeps(open: readonly Sweep[]): () => readonly Sweep[] {
  const store = useStoreApi();
  const latest = useRef(open);
  useEffect(() => {
    latest.current = open;
  }, [open]);
  return useCallback(() => {
    const told: Sweep[] = store
      .getState()
      .lastOutcomes.flatMap(({ outcome }) => (outcome.type === "sweep" ? [outcome.sweep] : []));
    return recentSweeps(told, latest.current);
  }, [store]);
}
