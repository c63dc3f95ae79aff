import type { ReactNode } from "react";
import type { JobGauge } from "../../core/session/job.ts";
import { Button } from "../parts/Button.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { gaugeName, LINK_IN_WORDS } from "../parts/gaugeName.ts";
import { RawLine } from "../parts/RawLine.tsx";
import { useLate } from "../parts/useLate.ts";
import { Lamp } from "../sound/Lamp.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import styles from "./GaugeStrip.module.css";

/** Always on top: each gauge with its live reading, its link and the last line it sent; and whether all is on disk. */
export function GaugeStrip(): ReactNode {
  const job = useJob();
  const session = useStore((state) => state.session);
  // The walk has the light on its own sheet, where the eyes are.
  const lamp = useStore((state) => state.place === "Lifters" || state.place === "Zero");
  return (
    <section className={styles.strip} aria-label="Live readings">
      {job === null ? (
        <p className={styles.none}>No session is open, so no gauge is listened to yet.</p>
      ) : (
        job.gauges.map((gauge) => <GaugeCell key={gauge.id} gauge={gauge} />)
      )}
      <div className={styles.end}>
        {session !== null && lamp ? (
          <div className={styles.lamp}>
            <Lamp />
          </div>
        ) : null}
        {session?.simulated && !session.simulating ? <strong>Simulated</strong> : null}
        {session?.simulating ? <SimulatedPerson /> : null}
        {session === null ? null : <Saved readOnly={session.readOnly} />}
      </div>
    </section>
  );
}

function GaugeCell({ gauge }: { readonly gauge: JobGauge }): ReactNode {
  const seen = useStore((state) => state.view?.gauges.find((one) => one.id === gauge.id));
  const live = useStore((state) => state.live[gauge.id]);
  const simulated = useStore((state) => state.session?.simulating ?? false);
  const link = LINK_IN_WORDS[seen?.link ?? "closed"];
  const line = live?.line ?? seen?.lastLine ?? null;
  const value = live === undefined ? (seen?.lastNm ?? null) : live.valueNm;
  const whyNot = seen?.whyNot ?? null;
  return (
    <div className={styles.gauge} data-link={seen?.link ?? "closed"}>
      <div className={styles.who}>
        <h2 className={styles.name}>
          {gaugeName(gauge)} <span className={styles.id}>{gauge.id}</span>
        </h2>
        <p className={styles.link}>
          {gauge.source === "typed" ? (
            "read by eye, typed"
          ) : (
            <>
              <span aria-hidden="true">{link.mark}</span> {link.text}
            </>
          )}
          {simulated ? ", simulated" : ""}
        </p>
      </div>
      <div className={styles.what}>
        <p className={styles.value}>
          <Figure
            length={value}
            kind={gauge.role === "bore" ? "difference" : "diameter"}
            sign={gauge.role === "bore"}
            none="no reading yet"
          />
        </p>
        <p className={styles.line}>
          {line === null ? (
            "no line yet"
          ) : whyNot === null ? (
            <>
              {gauge.source === "typed" ? "typed" : "sent"} <RawLine line={line} />
            </>
          ) : (
            <>
              <strong>not understood</strong> <RawLine line={line} />
            </>
          )}
        </p>
      </div>
    </div>
  );
}

function Saved({ readOnly }: { readonly readOnly: boolean }): ReactNode {
  const saved = useStore((state) => state.saved);
  const late = useLate(saved);
  if (readOnly) return <p className={styles.saved}>Only looking</p>;
  if (saved.trouble !== null) return <p className={styles.notSaved}>NOT SAVED</p>;
  return (
    <p className={styles.saved} aria-live="off">
      {late ? `Saving ${saved.pending}` : "All saved"}
    </p>
  );
}

/** Starts and stops the simulated person; only there with simulated gauges. */
function SimulatedPerson(): ReactNode {
  const works = useStore((state) => state.handsWork);
  const letHandsWork = useStore((state) => state.actions.letHandsWork);
  return (
    <Button onClick={() => void letHandsWork(!works)}>
      {works ? "Pause the simulated hands" : "Let simulated hands work"}
    </Button>
  );
}
