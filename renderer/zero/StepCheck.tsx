import { type ReactNode, useState } from "react";
import type { OperatorAction } from "../../core/bridge/messages.ts";
import { parseLength } from "../../core/length/parseLength.ts";
import type { StepCheckView } from "../../core/session/view.ts";
import { Button } from "../parts/Button.tsx";
import { Choice } from "../parts/Field.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./ZeroPlace.module.css";

const OPENINGS = ["0.0010 in", "0.0050 in", "0.02 mm", "0.10 mm"];

const STATES: Readonly<Record<StepCheckView["state"], string>> = {
  "not done": "Not done yet.",
  measuring: "Rock the gauge in the opened micrometer.",
  passed: "Passed.",
  failed: "Not the step.",
  skipped: "Skipped; the record says so.",
};

/** Proves in one touch which way the gauge counts, in which unit, and that nothing holds its reading. */
export function StepCheck({
  stepCheck,
  hasZero,
  isMain,
  mayAct,
}: {
  readonly stepCheck: StepCheckView;
  readonly hasZero: boolean;
  /** This is the one thing to do next. */
  readonly isMain: boolean;
  readonly mayAct: boolean;
}): ReactNode {
  const job = useJob();
  const { act, goTo } = useStore((state) => state.actions);
  const [opening, setOpening] = useState(() =>
    job?.gauges.find((gauge) => gauge.role === "bore")?.unit === "mm" ? "0.02 mm" : "0.0010 in",
  );
  const bore = job?.gauges.find((gauge) => gauge.role === "bore")?.id;
  const { offer } = stepCheck;
  const skip = async () => {
    if (await act({ type: "step", step: "bores" })) goTo("Bores");
  };
  return (
    <section className={styles.part} aria-labelledby="step-title">
      <h2 id="step-title">Step check</h2>
      <p>
        <strong>{STATES[stepCheck.state]}</strong> {stepCheck.text ?? ""}
      </p>
      {stepCheck.answerNm === null ? null : (
        <dl className={styles.figures}>
          <div>
            <dt>Opened by</dt>
            <dd>
              <Figure length={stepCheck.openedNm} sign />
            </dd>
          </div>
          <div>
            <dt>The gauge answered</dt>
            <dd>
              <Figure length={stepCheck.answerNm} sign />
            </dd>
          </div>
        </dl>
      )}
      <div className={styles.row}>
        <Choice
          label="Open the micrometer by exactly"
          value={opening}
          options={OPENINGS.map((one) => ({ value: one, text: one }))}
          onChange={(event) => setOpening(event.target.value)}
        />
        <Button
          kind={isMain && offer === null ? "main" : "plain"}
          disabled={!mayAct || !hasZero}
          onClick={() => void act({ type: "step", step: "step-check", openedNm: parseLength(opening) })}
        >
          {stepCheck.state === "not done" ? "Do the step check" : "Do it again"}
        </Button>
        {hasZero && (stepCheck.state === "not done" || stepCheck.state === "measuring") ? (
          <Button disabled={!mayAct} onClick={() => void skip()}>
            Skip it and go to the bores
          </Button>
        ) : null}
      </div>
      {offer === null || bore === undefined ? null : (
        <div className={styles.row}>
          <Button kind={isMain ? "main" : "plain"} disabled={!mayAct} onClick={() => void act(correction(bore, offer))}>
            {offerText(offer)}
          </Button>
        </div>
      )}
      <p className={styles.note}>
        After a step check close the micrometer on the lifter again and lock it, or take a new zero.
      </p>
    </section>
  );
}

type Offer = NonNullable<StepCheckView["offer"]>;

function correction(gauge: string, offer: Offer): OperatorAction {
  return {
    type: "correct",
    gauge,
    ...(offer.polarity === undefined ? {} : { polarity: offer.polarity }),
    ...(offer.unit === undefined ? {} : { unit: offer.unit }),
    ...(offer.gain === undefined ? {} : { gain: offer.gain }),
  };
}

function offerText(offer: Offer): string {
  const parts = [
    offer.polarity === undefined ? null : `that it counts ${offer.polarity === "+" ? "up" : "down"} as the bore grows`,
    offer.unit === undefined ? null : `that it shows ${offer.unit === "in" ? "inches" : "millimetres"}`,
    offer.gain === undefined ? null : `a gain of ${offer.gain.toFixed(4)}`,
  ].filter((part) => part !== null);
  return `Accept ${parts.join(" and ")}`;
}
