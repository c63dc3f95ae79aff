import { type ReactNode, useState } from "react";
import type { PortSettings } from "../../core/bridge/messages.ts";
import { Check } from "../parts/Choices.tsx";
import { Details } from "../parts/Details.tsx";
import { Choice, Field } from "../parts/Field.tsx";
import { useStore } from "../store/store.ts";
import { BAUDS, FRAMINGS } from "./connection.ts";
import styles from "./GaugesPlace.module.css";

const TYPED = "typed";

/** Which port and how it is spoken to. */
export function PortFields({
  settings,
  onChange,
}: {
  readonly settings: PortSettings;
  readonly onChange: (settings: PortSettings) => void;
}): ReactNode {
  const ports = useStore((state) => state.ports);
  const listed = ports.some((port) => port.path === settings.path);
  const [typed, setTyped] = useState(settings.path !== "" && !listed);
  const bauds = BAUDS.includes(settings.baud) ? BAUDS : [settings.baud, ...BAUDS];
  return (
    <>
      <div className={styles.fields}>
        <Choice
          label="Port"
          value={typed ? TYPED : settings.path}
          options={[
            ...(settings.path === "" && !typed
              ? [{ value: "", text: ports.length === 0 ? "No port found" : "Choose a port" }]
              : []),
            ...ports.map((port) => ({
              value: port.path,
              text: `${port.label || port.path}${port.simulated ? " (simulated)" : ""}${port.label ? `, ${port.path}` : ""}`,
            })),
            ...(settings.path !== "" && !listed && !typed
              ? [{ value: settings.path, text: `${settings.path} (not there now)` }]
              : []),
            { value: TYPED, text: "Another, typed" },
          ]}
          onChange={(event) => {
            const chosen = event.target.value;
            setTyped(chosen === TYPED);
            if (chosen !== TYPED) onChange({ ...settings, path: chosen });
          }}
        />
        {typed ? (
          <Field
            label="Path of the port"
            value={settings.path}
            onChange={(event) => onChange({ ...settings, path: event.target.value })}
            autoComplete="off"
          />
        ) : null}
        <Choice
          label="Speed, bits a second"
          value={String(settings.baud)}
          options={bauds.map((baud) => ({ value: String(baud), text: String(baud) }))}
          onChange={(event) => onChange({ ...settings, baud: Number(event.target.value) })}
        />
        <Choice
          label="Framing"
          value={settings.framing}
          options={FRAMINGS.map((framing) => ({ value: framing, text: framing }))}
          onChange={(event) => onChange({ ...settings, framing: event.target.value })}
        />
      </div>
      <Details summary="Control lines that power some cables">
        <Check label="DTR raised" checked={settings.dtr} onChange={(dtr) => onChange({ ...settings, dtr })} />
        <Check label="RTS raised" checked={settings.rts} onChange={(rts) => onChange({ ...settings, rts })} />
      </Details>
    </>
  );
}
