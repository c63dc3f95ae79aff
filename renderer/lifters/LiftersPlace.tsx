import type { CSSProperties, ReactNode } from "react";
import { spokenBore } from "../../core/block/spokenBore.ts";
import type { Notice } from "../../core/session/notice.ts";
import type { LifterView } from "../../core/session/view.ts";
import { TypeByHand } from "../keyboard/TypeByHand.tsx";
import { Button } from "../parts/Button.tsx";
import { classNames } from "../parts/classNames.ts";
import { Figure } from "../parts/figure/Figure.tsx";
import { NoSession } from "../parts/NoSession.tsx";
import { Notices } from "../parts/Notices.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { LifterDrawing } from "./LifterDrawing.tsx";
import styles from "./LiftersPlace.module.css";

/** Notices that are about lifters and belong on this place. */
const ABOUT_LIFTERS: readonly Notice["code"][] = ["odd-lifter", "turn-out", "unit-mismatch"];

export function LiftersPlace(): ReactNode {
  const job = useJob();
  const view = useStore((state) => state.view);
  const mayAct = useStore((state) => (state.info?.mayAct ?? false) && state.session?.readOnly === false);
  const { act, goTo } = useStore((state) => state.actions);
  if (job === null || view === null) return <NoSession place="Lifters" />;

  const micrometer = job.gauges.find((gauge) => gauge.role === "micrometer");
  const measured = view.lifters.filter((lifter) => lifter.diameterNm !== null).length;
  const working = view.step === "lifters";
  const done = measured === view.lifters.length;
  const byHand = micrometer?.source === "typed";
  const notices = view.notices.filter(
    (notice) => notice.curedMs === undefined && isAboutLifters(notice, micrometer?.id),
  );
  const next = working
    ? view.guide.sentence
    : done
      ? "Every lifter is measured."
      : micrometer === undefined
        ? "This job has no micrometer. Go on to the zero: every clearance is then to the lifter that the micrometer is set to."
        : `${measured === 0 ? "Measure each lifter" : "Measure the lifters that are left"} with the micrometer, in the order of the walk.`;

  return (
    <PlaceFrame
      title="Lifters"
      next={next}
      actions={
        <>
          {working ? (
            <Button disabled={!mayAct || measured === 0} onClick={() => void act({ type: "strike" })}>
              Take back the last
            </Button>
          ) : (
            <Button
              kind={done ? "plain" : "main"}
              disabled={!mayAct}
              onClick={() => void act({ type: "step", step: "lifters" })}
            >
              {measured === 0 ? "Measure the lifters" : "Go on with the lifters"}
            </Button>
          )}
          <Button kind={done ? "main" : "plain"} onClick={() => goTo("Zero")}>
            On to the zero
          </Button>
        </>
      }
    >
      <div className={styles.columns}>
        <div className={styles.work}>
          <Notices notices={notices} />
          {byHand && working ? <TypeByHand /> : null}
          <p className={styles.count}>
            {measured} of {view.lifters.length} measured
            {job.pressesPerLifter > 1 ? `, ${job.pressesPerLifter} readings each` : ""}
          </p>
          <ol className={styles.lifters} style={rows(view.lifters.length)}>
            {view.lifters.map((lifter) => (
              <LifterRow
                key={lifter.name}
                lifter={lifter}
                isNext={working && lifter.name === view.nextLifter}
                odd={notices.some((notice) => notice.bore === lifter.name)}
                wanted={job.pressesPerLifter}
              />
            ))}
          </ol>
        </div>
        <figure className={styles.figure}>
          <LifterDrawing />
          <figcaption>
            Close the micrometer on a full-diameter band, clear of the groove and holes, with the feel you will use for
            the zero. Then {byHand ? "type what it shows" : "press its data button"}.
          </figcaption>
        </figure>
      </div>
      {byHand ? null : <TypeByHand />}
    </PlaceFrame>
  );
}

function LifterRow({
  lifter,
  isNext,
  odd,
  wanted,
}: {
  readonly lifter: LifterView;
  readonly isNext: boolean;
  readonly odd: boolean;
  readonly wanted: number;
}): ReactNode {
  return (
    <li className={classNames(styles.lifter, isNext && styles.next)} aria-current={isNext ? "step" : undefined}>
      <strong className={styles.name}>{lifter.name}</strong>
      <span className={styles.spoken}>{spokenBore(lifter.name)}</span>
      <span className={styles.diameter}>
        <Figure length={lifter.diameterNm} kind="diameter" none="not measured" />
      </span>
      <span className={styles.mark}>
        {odd ? <strong>▲ odd one</strong> : isNext ? <strong>next</strong> : null}
        {wanted > 1 || lifter.readings.length > 1 ? (
          <span className={styles.readings}>
            {" "}
            {lifter.readings.length} of {Math.max(wanted, lifter.readings.length)}
          </span>
        ) : null}
      </span>
    </li>
  );
}

function isAboutLifters(notice: Notice, micrometer: string | undefined): boolean {
  if (ABOUT_LIFTERS.includes(notice.code)) return true;
  return micrometer !== undefined && notice.gauge === micrometer;
}

/** Two columns, read downwards like the banks they stand in. */
function rows(count: number): CSSProperties {
  return { "--rows": Math.ceil(count / 2) } as CSSProperties;
}
