import { type ReactNode, useEffect, useState } from "react";
import type { PortSettings } from "../../core/bridge/messages.ts";
import type { GaugeRole } from "../../core/gauge/profile.ts";
import { formatLength } from "../../core/length/formatLength.ts";
import type { Nm } from "../../core/length/nm.ts";
import { useDraft } from "../job/draft.ts";
import { Button } from "../parts/Button.tsx";
import { gaugeName } from "../parts/gaugeName.ts";
import { RawLine } from "../parts/RawLine.tsx";
import { type Learnt, useStore } from "../store/store.ts";
import { DEFAULT_CONNECTION, keepConnection, nextLikely } from "./connection.ts";
import styles from "./GaugesPlace.module.css";
import { PortFields } from "./PortFields.tsx";

/** Listens to a port before any gauge is named there, and says what was learnt from three presses. */
export function ListenSection(): ReactNode {
  const [settings, setSettings] = useState<PortSettings>(DEFAULT_CONNECTION);
  const [listening, setListening] = useState(false);
  const learnt = useStore((state) => state.learning);
  const mayAct = useStore((state) => state.info?.mayAct ?? false);
  const { call, ask } = useStore((state) => state.actions);

  // The port is let go when the place is left, else the gauge could not be connected to it.
  useEffect(() => () => void ask("gauge.learnStop", {}), [ask]);

  const listen = async (chosen: PortSettings) => {
    setSettings(chosen);
    useStore.setState({ learning: null });
    setListening((await call("gauge.learn", { settings: chosen })) !== null);
  };
  const stop = async () => {
    await call("gauge.learnStop", {});
    setListening(false);
  };

  return (
    <section className={styles.listen} aria-labelledby="listen-title">
      <h2 id="listen-title">Find out how a gauge speaks</h2>
      {listening ? (
        <p className={styles.instruction}>
          Press the data button three times, at three different readings. Listening on {settings.path} at{" "}
          {settings.baud}, {settings.framing}.
        </p>
      ) : (
        <p>Choose its port and listen: unit, resolution and line format are worked out from three presses.</p>
      )}
      {listening ? null : <PortFields settings={settings} onChange={setSettings} />}
      <div className={styles.row}>
        {listening ? (
          <>
            <Button onClick={() => void stop()}>Stop listening</Button>
            <Button onClick={() => void call("gauge.learnStop", {}).then(() => listen(nextLikely(settings)))}>
              Nothing sensible? Try {nextLikely(settings).baud}, {nextLikely(settings).framing}
            </Button>
          </>
        ) : (
          <Button disabled={!mayAct || settings.path === ""} onClick={() => void listen(settings)}>
            Listen
          </Button>
        )}
      </div>
      {learnt === null ? null : <WhatWasLearnt learnt={learnt} settings={settings} />}
    </section>
  );
}

function WhatWasLearnt({ learnt, settings }: { readonly learnt: Learnt; readonly settings: PortSettings }): ReactNode {
  const { file, changeGauge } = useDraft();
  const [taken, setTaken] = useState<GaugeRole | null>(null);
  const sound = learnt.unit !== null && learnt.resolutionNm !== null;
  const take = (role: GaugeRole) => {
    if (learnt.unit === null || learnt.resolutionNm === null) return;
    const { path: _, ...serial } = settings;
    const resolution = formatLength(learnt.resolutionNm as Nm, learnt.unit, 6).replace(/0+$/, "");
    changeGauge(role, {
      unit: learnt.unit,
      resolution: `${resolution} ${learnt.unit}`,
      serial,
      ...(learnt.sends === null || role === "micrometer" ? {} : { sends: learnt.sends }),
    });
    const id = (file.gauges ?? []).find((gauge) => gauge.role === role)?.id ?? (role === "bore" ? "bore" : "mic");
    keepConnection(window.localStorage, id, settings);
    setTaken(role);
  };
  return (
    <div className={styles.learnt}>
      <p aria-live="polite">
        <strong>{learnt.text}</strong>
      </p>
      {learnt.lines.length === 0 ? null : (
        <table className={styles.table}>
          <caption className="unseen">Lines received, as they came and as they were understood</caption>
          <thead>
            <tr>
              <th scope="col">As it came</th>
              <th scope="col">Understood as</th>
            </tr>
          </thead>
          <tbody>
            {numbered(learnt.lines.slice(-8)).map(({ key, entry }) => (
              <tr key={key}>
                <td>
                  <RawLine line={entry.raw} />
                </td>
                <td>{entry.understood ?? <strong>▲ not understood: {entry.why ?? "no number in it"}</strong>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {sound ? (
        <div className={styles.row}>
          {(["bore", "micrometer"] as const).map((role) => (
            <Button key={role} onClick={() => take(role)}>
              Keep this for the {gaugeName({ role }).toLowerCase()}
            </Button>
          ))}
          {taken === null ? null : (
            <p aria-live="polite">Kept for the {gaugeName({ role: taken }).toLowerCase()} of the next job.</p>
          )}
        </div>
      ) : null}
    </div>
  );
}

function numbered<T>(entries: readonly T[]): readonly { readonly key: string; readonly entry: T }[] {
  return entries.map((entry, index) => ({ key: `line ${index}`, entry }));
}
