import { type ReactNode, useState } from "react";
import type { PortSettings } from "../../core/bridge/messages.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { JobGauge } from "../../core/session/job.ts";
import { Button } from "../parts/Button.tsx";
import { Figure } from "../parts/figure/Figure.tsx";
import { gaugeName, LINK_IN_WORDS } from "../parts/gaugeName.ts";
import { RawLine } from "../parts/RawLine.tsx";
import { useStore } from "../store/store.ts";
import { connectionOf } from "./connection.ts";
import styles from "./GaugesPlace.module.css";
import { PortFields } from "./PortFields.tsx";

const SENDS_IN_WORDS = {
  stream: "readings all the time",
  press: "one reading a press",
  held: "the minimum it held, at a press",
} as const;

/** One gauge of the job: its port, and what it says as it came and as it was understood. */
export function JobGaugeSection({
  gauge,
  simulated,
  onTeach,
}: {
  readonly gauge: JobGauge;
  readonly simulated: boolean;
  readonly onTeach: () => void;
}): ReactNode {
  const seen = useStore((state) => state.view?.gauges.find((one) => one.id === gauge.id));
  const kept = useStore((state) => state.profiles.find((one) => one.gauge === gauge.id) ?? null);
  const readOnly = useStore((state) => state.session?.readOnly ?? true);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const call = useStore((state) => state.actions.call);
  const [edited, setEdited] = useState<PortSettings | null>(null);
  const settings =
    edited ??
    (kept === null
      ? connectionOf(gauge)
      : { ...kept.settings, path: kept.alike ? "" : (kept.path ?? kept.settings.path) });
  const link = seen?.link ?? "closed";
  if (gauge.source === "typed") {
    return (
      <section className={styles.gauge} aria-labelledby={`gauge-${gauge.id}`}>
        <h2 id={`gauge-${gauge.id}`}>
          {gaugeName(gauge)} <span className={styles.id}>{gauge.id}</span>
        </h2>
        <p>
          It has no data output: its dial is read by eye, to{" "}
          {formatLength(gauge.resolutionNm, gauge.unit, gauge.unit === "in" ? 5 : 4)} {gauge.unit}, and typed at
          Lifters, Zero and Bores. Nothing is to be connected.
        </p>
      </section>
    );
  }
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
      {kept?.alike && link !== "open" ? (
        <p className={styles.doubt}>
          ▲ Adapters that look the same are plugged in, so the program does not guess which is this gauge's. Let it be
          told by a press.
        </p>
      ) : null}
      {simulated || link === "open" ? null : <PortFields settings={settings} onChange={setEdited} />}
      {simulated || readOnly ? null : (
        <div className={styles.row}>
          {link === "open" ? (
            <Button disabled={!mayAct} onClick={() => void call("gauge.disconnect", { gauge: gauge.id })}>
              Disconnect
            </Button>
          ) : (
            <>
              <Button
                kind={kept?.alike ? "plain" : "main"}
                disabled={!mayAct || settings.path.trim() === ""}
                onClick={() => void call("gauge.connect", { gauge: gauge.id, settings })}
              >
                {link === "lost" ? "Connect again" : "Connect"}
              </Button>
              <Button kind={kept?.alike ? "main" : "plain"} disabled={!mayAct} onClick={onTeach}>
                {kept?.alike ? "Tell by a press" : "Not sure? Teach it"}
              </Button>
            </>
          )}
          {kept === null ? null : (
            <Button
              kind="quiet"
              disabled={!mayAct}
              onClick={() => {
                setEdited(null);
                void call("profile.forget", { gauge: gauge.id });
              }}
            >
              Forget its port
            </Button>
          )}
        </div>
      )}
      {kept === null || simulated ? null : (
        <p className={styles.kept}>
          Remembered: {kept.label}, {kept.settings.baud}, {kept.settings.framing}
          {kept.alike ? "" : ". Connected by itself when it is there"}.
        </p>
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
