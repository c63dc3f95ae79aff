import { type ReactNode, useState } from "react";
import type { PortSettings } from "../../core/bridge/messages.ts";
import { Check } from "../parts/Choices.tsx";
import { Details } from "../parts/Details.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { type PortEntry, useStore } from "../store/store.ts";
import { BAUDS, FRAMINGS } from "./connection.ts";
import styles from "./GaugesPlace.module.css";

const TYPED = "typed";

/** A port in words: what it can be told by, and whether it is new or taken. */
export function portText(port: PortEntry): string {
  const named = port.label.includes(port.path) ? port.label : `${port.label}, ${port.path}`;
  const marks = [
    port.fresh ? "NEW" : null,
    port.usedBy === null ? null : `in use by ${port.usedBy}`,
    port.simulated ? "simulated" : null,
  ].filter((mark) => mark !== null);
  return marks.length === 0 ? named : `${named} (${marks.join(", ")})`;
}

/** Which port and how it is spoken to. */
export function PortFields({
  settings,
  onChange,
}: {
  readonly settings: PortSettings;
  readonly onChange: (settings: PortSettings) => void;
}): ReactNode {
  return (
    <>
      <div className={styles.fields}>
        <PortChoice path={settings.path} onChange={(path) => onChange({ ...settings, path })} />
        <SpeedFields settings={settings} onChange={(part) => onChange({ ...settings, ...part })} />
      </div>
      <Details summary="Control lines that power some cables, and waking up">
        <PowerFields settings={settings} onChange={(part) => onChange({ ...settings, ...part })} />
        <Field
          label="Time to wake up after opening, ms"
          type="number"
          min={0}
          max={10_000}
          step={100}
          value={settings.settleMs}
          onChange={(event) =>
            onChange({ ...settings, settleMs: Math.min(10_000, Math.max(0, Math.round(Number(event.target.value)))) })
          }
        />
      </Details>
    </>
  );
}

/** One of the ports there are, or one by its typed path. `any` offers to take whichever speaks. */
export function PortChoice({
  path,
  onChange,
  any,
}: {
  readonly path: string;
  readonly onChange: (path: string) => void;
  /** The words for taking whichever speaks, as the empty path; left out where a port must be named. */
  readonly any?: string;
}): ReactNode {
  const ports = useStore((state) => state.ports);
  const listed = ports.some((port) => port.path === path);
  const [typed, setTyped] = useState(path !== "" && !listed);
  const none = any ?? (path === "" && !typed ? (ports.length === 0 ? "No port found" : "Choose a port") : null);
  return (
    <>
      <Choice
        label="Port"
        value={typed ? TYPED : path}
        options={[
          ...(none === null ? [] : [{ value: "", text: none }]),
          ...ports.map((port) => ({ value: port.path, text: portText(port) })),
          ...(path !== "" && !listed && !typed ? [{ value: path, text: `${path} (not there now)` }] : []),
          { value: TYPED, text: "Another, typed" },
        ]}
        onChange={(event) => {
          const chosen = event.target.value;
          setTyped(chosen === TYPED);
          onChange(chosen === TYPED ? "" : chosen);
        }}
      />
      {typed ? (
        <Field
          label="Path of the port"
          value={path}
          onChange={(event) => onChange(event.target.value)}
          autoComplete="off"
        />
      ) : null}
    </>
  );
}

type Speed = Pick<PortSettings, "baud" | "framing">;
type Power = Pick<PortSettings, "dtr" | "rts">;

export function SpeedFields({
  settings,
  onChange,
}: {
  readonly settings: Speed;
  readonly onChange: (part: Partial<Speed>) => void;
}): ReactNode {
  const bauds = BAUDS.includes(settings.baud) ? BAUDS : [settings.baud, ...BAUDS];
  return (
    <>
      <Choice
        label="Speed, bits a second"
        value={String(settings.baud)}
        options={bauds.map((baud) => ({ value: String(baud), text: String(baud) }))}
        onChange={(event) => onChange({ baud: Number(event.target.value) })}
      />
      <Choice
        label="Framing"
        value={settings.framing}
        options={FRAMINGS.map((framing) => ({ value: framing, text: framing }))}
        onChange={(event) => onChange({ framing: event.target.value })}
      />
    </>
  );
}

export function PowerFields({
  settings,
  onChange,
}: {
  readonly settings: Power;
  readonly onChange: (part: Partial<Power>) => void;
}): ReactNode {
  return (
    <>
      <Check label="DTR raised" checked={settings.dtr} onChange={(dtr) => onChange({ dtr })} />
      <Check label="RTS raised" checked={settings.rts} onChange={(rts) => onChange({ rts })} />
    </>
  );
}
