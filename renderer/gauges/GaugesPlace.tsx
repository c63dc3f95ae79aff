import { type ReactNode, useState } from "react";
import type { PortSettings } from "../../core/bridge/messages.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { JobGauge } from "../../core/session/job.ts";
import { Button } from "../parts/Button.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { gaugeName, LINK_IN_WORDS } from "../parts/gaugeName.ts";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { RawLine } from "../parts/RawLine.tsx";
import { useJob } from "../store/sessionJob.ts";
import { useStore } from "../store/store.ts";
import { DEFAULT_CONNECTION, keepConnection, readConnections } from "./connection.ts";
import styles from "./GaugesPlace.module.css";
import { ListenSection } from "./ListenSection.tsx";
import { PortFields } from "./PortFields.tsx";

export function GaugesPlace(): ReactNode {
  const job = useJob();
  const view = useStore((state) => state.view);
  const simulated = useStore((state) => state.session?.simulating ?? false);
  const once = useStore((state) => state.session?.simulated ?? false);
  const goTo = useStore((state) => state.actions.goTo);
  const missing = (job?.gauges ?? []).filter(
    (gauge) => view?.gauges.find((one) => one.id === gauge.id)?.link !== "open",
  );
  const next =
    job === null
      ? "Begin a job to connect its gauges, or find out first how a gauge speaks."
      : missing.length === 0
        ? "Every gauge is connected. Move each one and see that its reading here follows."
        : `Connect the ${missing.map((gauge) => gaugeName(gauge).toLowerCase()).join(" and the ")}.`;
  return (
    <PlaceFrame
      title="Gauges"
      next={next}
      actions={
        job === null ? (
          <Button kind="main" onClick={() => goTo("Job")}>
            New job
          </Button>
        ) : (
          <Button kind={missing.length === 0 ? "main" : "plain"} onClick={() => goTo("Lifters")}>
            On to the lifters
          </Button>
        )
      }
    >
      {simulated ? (
        <p className={styles.simulated}>
          These gauges are simulated. Nothing here was measured, and the session says so wherever it goes.
        </p>
      ) : once ? (
        <p className={styles.simulated}>
          This session was begun with simulated gauges and says so wherever it goes: it proves nothing about a block.
          For a real block, begin a new one.
        </p>
      ) : null}
      {job === null ? null : (
        <div className={styles.gauges}>
          {job.gauges.map((gauge) => (
            <GaugeSection key={gauge.id} gauge={gauge} simulated={simulated} />
          ))}
        </div>
      )}
      {simulated ? null : <ListenSection />}
    </PlaceFrame>
  );
}

const SENDS_IN_WORDS = {
  stream: "readings all the time",
  press: "one reading a press",
  held: "the minimum it held, at a press",
} as const;

function GaugeSection({ gauge, simulated }: { readonly gauge: JobGauge; readonly simulated: boolean }): ReactNode {
  const seen = useStore((state) => state.view?.gauges.find((one) => one.id === gauge.id));
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const call = useStore((state) => state.actions.call);
  const [settings, setSettings] = useState<PortSettings>(
    () => readConnections(window.localStorage)[gauge.id] ?? connectionOf(gauge),
  );
  const link = seen?.link ?? "closed";
  const connect = async () => {
    if ((await call("gauge.connect", { gauge: gauge.id, settings })) === null) return;
    keepConnection(window.localStorage, gauge.id, settings);
  };
  return (
    <section className={styles.gauge} aria-labelledby={`gauge-${gauge.id}`}>
      <h2 id={`gauge-${gauge.id}`}>
        {gaugeName(gauge)} <span className={styles.id}>{gauge.id}</span>
      </h2>
      <p>
        {LINK_IN_WORDS[link].mark} {LINK_IN_WORDS[link].text}
        {simulated ? ", simulated" : ""}. Sends {SENDS_IN_WORDS[gauge.sends]}, in{" "}
        {gauge.unit === "in" ? "inches" : "millimetres"}, steps of{" "}
        {formatLength(gauge.resolutionNm, gauge.unit, gauge.unit === "in" ? 5 : 4)} {gauge.unit}
        {gauge.role === "bore" ? `, ${gauge.polarity === 1 ? "up" : "down"} as the bore grows` : ""}.
      </p>
      {simulated || link === "open" ? null : <PortFields settings={settings} onChange={setSettings} />}
      {simulated || readOnly ? null : (
        <div className={styles.row}>
          {link === "open" ? (
            <Button onClick={() => void call("gauge.disconnect", { gauge: gauge.id })}>Disconnect</Button>
          ) : (
            <Button kind="main" disabled={settings.path.trim() === ""} onClick={() => void connect()}>
              {link === "lost" ? "Connect again" : "Connect"}
            </Button>
          )}
        </div>
      )}
      <dl className={styles.sideBySide}>
        <div>
          <dt>As it came</dt>
          <dd className={styles.raw}>{seen?.lastLine == null ? "no line yet" : <RawLine line={seen.lastLine} />}</dd>
        </div>
        <div>
          <dt>Understood as</dt>
          <dd className={styles.reading}>
            {seen?.whyNot ? (
              <span className={styles.whyNot}>▲ not understood: {seen.whyNot}</span>
            ) : (
              <Figure
                length={seen?.lastNm ?? null}
                kind={gauge.role === "bore" ? "difference" : "diameter"}
                sign={gauge.role === "bore"}
                none="no reading yet"
              />
            )}
          </dd>
        </div>
        <div>
          <dt>Lines understood</dt>
          <dd className={styles.count}>{seen?.understood ?? 0}</dd>
        </div>
        <div>
          <dt>Not understood</dt>
          <dd className={styles.count}>{seen?.notUnderstood ?? 0}</dd>
        </div>
      </dl>
    </section>
  );
}

function connectionOf(gauge: JobGauge): PortSettings {
  return {
    path: "",
    baud: gauge.serial?.baud ?? DEFAULT_CONNECTION.baud,
    framing: gauge.serial?.framing ?? DEFAULT_CONNECTION.framing,
    dtr: gauge.serial?.dtr ?? DEFAULT_CONNECTION.dtr,
    rts: gauge.serial?.rts ?? DEFAULT_CONNECTION.rts,
  };
}
