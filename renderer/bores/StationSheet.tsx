import type { ReactNode } from "react";
import { spokenBore, spokenPlace } from "../../core/block/spokenBore.ts";
import type { Job } from "../../core/session/job.ts";
import type { HereView, SessionView } from "../../core/session/view.ts";
import { TypeByHand } from "../keyboard/TypeByHand.tsx";
import { gaugeOfPlace } from "../keyboard/typingGauge.ts";
import { lengthText, printLength } from "../parts/figure/printLength.ts";
import { Sweeps } from "../parts/Sweeps.tsx";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";
import { InRoomOf } from "./InRoomOf.tsx";
import { LimitsBar } from "./LimitsBar.tsx";
import { lettersOf } from "./lettersOf.ts";
import { inLimits, longestInLimits } from "./limitsScale.ts";
import { WalkTrace } from "./WalkTrace.tsx";

/** The station that the gauge is in: its name, its clearance, the limits, the trace and the sweeps. */
export function StationSheet({
  job,
  view,
  here,
  stateLine,
}: {
  readonly job: Job;
  readonly view: SessionView;
  readonly here: HereView;
  readonly stateLine: ReactNode;
}): ReactNode {
  const unit = useStore((state) => state.settings.unit);
  const value = here.clearanceNm ?? here.liveNm;
  const printed = value === null ? null : printLength(value, unit);
  const kept = here.sweeps.filter((sweep) => sweep.use === "kept").length;
  const source =
    here.clearanceNm !== null
      ? `from ${kept} ${kept === 1 ? "sweep" : "sweeps"}`
      : value !== null
        ? gaugeOfPlace(job, "Bores")?.source === "typed"
          ? "typed last"
          : "live"
        : "no reading";
  return (
    <>
      <h1 id="place-title" tabIndex={-1} className={styles.station}>
        <span className={styles.bore}>{spokenBore(here.bore)}.</span> <span>{spokenPlace(here.place)}</span>
      </h1>
      {stateLine}
      <div className={styles.figureRow}>
        <p className={styles.clearance} style={lettersOf(printed?.text ?? "")}>
          <span className="unseen">Clearance </span>
          <span className={styles.digits} data-figure="clearance">
            {printed === null ? "– –" : printed.text.replace("-", "−")}
          </span>
        </p>
        <p className={styles.figureWords}>
          <span className={styles.unit}>{printed?.unit ?? printLength(job.limits.lowNm, unit).unit}</span>
          <strong>
            <InRoomOf longest={longestInLimits(job.limits)}>
              {value === null ? "clearance" : inLimits(value, job.limits)}
            </InRoomOf>
          </strong>
          <InRoomOf longest="from 12 sweeps">{source}</InRoomOf>
        </p>
      </div>
      <LimitsBar limits={job.limits} value={value} live={here.liveNm} print={(length) => lengthText(length, unit)} />
      <div className={styles.sweeps}>
        <Sweeps sweeps={here.sweeps} wanted={here.state === "open" ? job.sweepsPerStation : 0} />
      </div>
      {gaugeOfPlace(job, "Bores")?.source === "typed" ? <TypeByHand /> : <WalkTrace job={job} view={view} />}
    </>
  );
}
