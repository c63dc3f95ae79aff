import { type ReactNode, useId, useState } from "react";
import { CONTROLS } from "../controls/controls.ts";
import { learn, useLearning } from "../controls/learning.ts";
import { DEFAULT_CONNECTION } from "../gauges/connection.ts";
import { PortFields } from "../gauges/PortFields.tsx";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import styles from "./settings.module.css";

const LINK_WORDS = { open: "● connected", lost: "✕ its cable is away", closed: "○ not connected" } as const;

/** A foot switch that sends a line of text a pedal: its port, and which pedal does what. */
export function FootSwitchSection(): ReactNode {
  const footSwitch = useStore((state) => state.settings.footSwitch);
  const { link, line } = useStore((state) => state.footSwitch);
  const { call, set } = useStore((state) => state.actions);
  const { wanted } = useLearning();
  const [port, setPort] = useState(footSwitch.port ?? DEFAULT_CONNECTION);
  const id = useId();
  const connect = async () => {
    if ((await call("switch.connect", { settings: port })) !== null) set({ footSwitch: { ...footSwitch, port } });
  };
  const disconnect = async () => {
    set({ footSwitch: { ...footSwitch, port: null } });
    await call("switch.disconnect", {});
  };
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>Foot switch on a serial line</h2>
      <p className={styles.note}>
        One that sends a line of text for each pedal; a switch that only closes a contact does not. It works whatever
        window is in front.
      </p>
      {link === "closed" ? <PortFields settings={port} onChange={setPort} /> : null}
      <div className={styles.line}>
        <span>{LINK_WORDS[link]}</span>
        {link === "closed" ? (
          <Button disabled={port.path === ""} onClick={() => void connect()}>
            Connect
          </Button>
        ) : (
          <Button onClick={() => void disconnect()}>Disconnect</Button>
        )}
        {line === null ? null : <span>last sent “{line}”</span>}
      </div>
      {link === "open" ? (
        <div className={styles.pedals}>
          {CONTROLS.map(({ control, word }) => {
            const waits = wanted?.by === "pedal" && wanted.control === control;
            const own = footSwitch.lines[control];
            return (
              <div key={control} className={styles.row}>
                <span className={styles.word}>{word}</span>
                <Button
                  aria-label={`Pedal of ${word}: ${own ?? "none"}`}
                  aria-pressed={waits}
                  onClick={() => learn(waits ? null : { by: "pedal", control })}
                >
                  {waits ? "step on it" : (own ?? "none")}
                </Button>
                {own === null ? null : (
                  <Button
                    kind="quiet"
                    aria-label={`No pedal for ${word}`}
                    onClick={() =>
                      set({ footSwitch: { ...footSwitch, lines: { ...footSwitch.lines, [control]: null } } })
                    }
                  >
                    None
                  </Button>
                )}
              </div>
            );
          })}
        </div>
      ) : null}
    </section>
  );
}
