import { type ReactNode, useState } from "react";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import type { NoticeCode } from "../../core/session/notice.ts";
import type { SessionView } from "../../core/session/view.ts";
import { TypeByHand } from "../keyboard/TypeByHand.tsx";
import { Button } from "../parts/Button.tsx";
import { Choice } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { NoSession } from "../parts/NoSession.tsx";
import { Notices } from "../parts/Notices.tsx";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { Sweeps } from "../parts/Sweeps.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { StepCheck } from "./StepCheck.tsx";
import { TemperatureFields } from "./TemperatureFields.tsx";
import { ZeroDrawing } from "./ZeroDrawing.tsx";
import { ZeroLog } from "./ZeroLog.tsx";
import styles from "./ZeroPlace.module.css";

/** Notices that belong here; what the step check found stands beside it and is not said twice. */
const ABOUT_ZERO: readonly NoticeCode[] = ["zero-moved", "no-agreement", "temperature"];

export function ZeroPlace(): ReactNode {
  const job = useJob();
  const view = useStore((state) => state.view);
  const mayAct = useStore((state) => (state.info?.mayAct ?? false) && state.session?.readOnly === false);
  const { act, goTo } = useStore((state) => state.actions);
  const [chosen, setChosen] = useState<string | null>(null);
  if (job === null || view === null) return <NoSession place="Zero" />;

  const { step } = view;
  const reference = view.references[view.references.length - 1];
  const lifter = chosen ?? reference?.lifter ?? job.walk[0] ?? null;
  const measuring = step === "zero" || step === "return" || step === "step-check";
  const notices = view.notices.filter((notice) => notice.curedMs === undefined && ABOUT_ZERO.includes(notice.code));
  const begin = (kind: "zero" | "return") =>
    act(lifter === null ? { type: "step", step: kind } : { type: "step", step: kind, lifter });
  const toBores = async () => {
    if (await act({ type: "step", step: "bores" })) goTo("Bores");
  };
  const main = mainThing(view);
  const byHand = job.gauges.find((gauge) => gauge.role === "bore")?.source === "typed";

  return (
    <PlaceFrame
      title="Zero"
      next={nextSentence(view)}
      actions={
        <>
          {step === "zero" || step === "return" ? (
            <Button
              disabled={!mayAct || view.referenceSweeps.length === 0}
              onClick={() => void act({ type: "strike" })}
            >
              Take back the last sweep
            </Button>
          ) : null}
          <Button kind={main === "zero" ? "main" : "plain"} disabled={!mayAct} onClick={() => void begin("zero")}>
            {reference === undefined ? (step === "zero" ? "Begin the zero again" : "Take the zero") : "Take a new zero"}
          </Button>
          {reference === undefined ? null : (
            <Button
              kind={main === "return" ? "main" : "plain"}
              disabled={!mayAct || step === "return"}
              onClick={() => void begin("return")}
            >
              Return check
            </Button>
          )}
          {reference === undefined ? null : (
            <Button kind={main === "bores" ? "main" : "plain"} disabled={!mayAct} onClick={() => void toBores()}>
              On to the bores
            </Button>
          )}
        </>
      }
    >
      <Notices notices={notices} />
      {byHand && measuring ? <TypeByHand /> : null}
      <div className={styles.columns}>
        <div className={styles.work}>
          <section className={styles.part} aria-labelledby="set-title">
            <h2 id="set-title">Micrometer set to</h2>
            <Choice
              label="Lifter in the micrometer when it was locked"
              value={lifter ?? ""}
              options={job.walk.map((name) => ({ value: name, text: lifterText(view, name) }))}
              onChange={(event) => setChosen(event.target.value)}
              hint={
                reference !== undefined && reference.lifter !== lifter
                  ? "Counts from the next zero on; the present zero keeps its own."
                  : "Close it on the lifter, lock it, take the lifter out. It stays locked until the last bore is done."
              }
            />
          </section>
          <section className={styles.part} aria-labelledby="sweeps-title">
            <h2 id="sweeps-title">
              {step === "return" || (step !== "zero" && reference?.kind === "return")
                ? "Sweeps of the return check"
                : "Sweeps of the zero"}
            </h2>
            <Sweeps
              sweeps={measuring && step !== "step-check" ? view.referenceSweeps : (reference?.sweeps ?? [])}
              wanted={job.sweepsPerStation}
            />
            <dl className={styles.figures}>
              <div>
                <dt>Reading</dt>
                <dd>
                  <Figure length={reference?.valueNm ?? null} sign none="none yet" />
                </dd>
              </div>
              <div>
                <dt>Spread</dt>
                <dd>
                  <Figure length={reference?.spreadNm ?? null} />
                </dd>
              </div>
              <div>
                <dt>Agree within</dt>
                <dd>
                  <Figure length={job.agreementNm} />
                </dd>
              </div>
            </dl>
          </section>
          <StepCheck
            stepCheck={view.stepCheck}
            hasZero={reference !== undefined}
            isMain={main === "step-check"}
            mayAct={mayAct}
          />
          <TemperatureFields mayAct={mayAct} />
        </div>
        <div className={styles.side}>
          <figure className={styles.figure}>
            <ZeroDrawing
              scene={step === "step-check" ? "step-check" : "zero"}
              {...(view.stepCheck.openedNm === null ? {} : { opened: openedText(view.stepCheck.openedNm) })}
            />
            <figcaption>
              Put the gauge between the faces of the locked micrometer and rock it both ways. Only the smallest reading
              is true: a tilted gauge reads long.
            </figcaption>
          </figure>
        </div>
      </div>
      <ZeroLog references={view.references} />
      {byHand ? null : <TypeByHand />}
    </PlaceFrame>
  );
}

/** The one thing to do next, which alone is drawn as such; null while the gauge is being rocked. */
function mainThing(view: SessionView): "zero" | "return" | "step-check" | "bores" | null {
  const reference = view.references[view.references.length - 1];
  if (view.step === "zero" && view.guide.next === null) return null;
  if (view.step === "return" && view.guide.next === null && !view.complete) return null;
  if (view.stepCheck.state === "measuring") return null;
  if (reference === undefined || !reference.held) return "zero";
  if (view.returnDue) return "return";
  if (view.stepCheck.state === "not done" || view.stepCheck.state === "failed") return "step-check";
  return "bores";
}

function nextSentence(view: SessionView): string {
  if (view.step === "zero" || view.step === "return" || view.step === "step-check") return view.guide.sentence;
  const reference = view.references[view.references.length - 1];
  if (reference === undefined) return "Set the micrometer to a lifter, lock it, then take the zero.";
  if (!reference.held)
    return "The zero has moved. Take a new zero; the bores since the last check that held are due again.";
  if (view.returnDue) return "A return check is due: put the gauge back in the locked micrometer.";
  if (view.stepCheck.state === "not done")
    return "The zero is taken. Prove by the step check which way the gauge counts.";
  return "The zero holds.";
}

function lifterText(view: SessionView, name: string): string {
  const diameter = view.lifters.find((lifter) => lifter.name === name)?.diameterNm ?? null;
  return diameter === null ? `${name}, not measured` : `${name}, ${formatLength(diameter, "in", 5)} in`;
}

/** How far the micrometer is opened, in the unit in which it is a round number. */
export function openedText(opened: Nm): string {
  return opened % 10_000 === 0 ? `${formatLength(opened, "mm", 2)} mm` : `${formatLength(opened, "in", 4)} in`;
}
