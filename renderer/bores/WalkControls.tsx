import { useEffect, useRef, useState } from "react";
import { Button } from "../parts/Button.tsx";
import { ToneSettings } from "../sound/ToneSettings.tsx";
import type { WalkKey } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";
import { isFree, keyName, withKey } from "./walkKeys.ts";

const CONTROLS: readonly { readonly control: WalkKey; readonly word: string; readonly does: string }[] = [
  { control: "take", word: "Take", does: "close the sweep now" },
  { control: "strike", word: "Strike", does: "take back the last sweep or station" },
  { control: "back", word: "Back", does: "one station back" },
  { control: "hold", word: "Hold", does: "readings are shown and not used" },
];

/** The large controls of the walk with their keys; a foot switch that types a key does the same. */
export function WalkControls({ held, disabled }: { readonly held: boolean; readonly disabled: boolean }) {
  const keys = useStore((state) => state.settings.keys);
  const { act, set } = useStore((state) => state.actions);
  const [setting, setSetting] = useState<WalkKey | "any" | null>(null);
  const [refused, setRefused] = useState<string | null>(null);

  const run = (control: WalkKey) => {
    if (disabled) return;
    void act(control === "hold" ? { type: "hold", on: !held } : { type: control });
  };
  const latest = useRef({ keys, run, setting });
  latest.current = { keys, run, setting };

  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent) => {
      const now = latest.current;
      if (event.defaultPrevented || event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
      if (now.setting !== null && now.setting !== "any") {
        if (event.code === "Tab") return;
        event.preventDefault();
        if (event.code !== "Escape") {
          if (!isFree(event.code)) {
            setRefused(`${keyName(event.code)} is a key that gauges or the page need; choose another.`);
            return;
          }
          set({ keys: withKey(now.keys, now.setting, event.code) });
        }
        setRefused(null);
        setSetting("any");
        return;
      }
      const target = event.target instanceof HTMLElement ? event.target : null;
      if (target?.matches("input, select, textarea, [contenteditable]") === true) return;
      // A focused control is worked by its own key first.
      if (event.code === "Space" && target?.closest("button, summary, a, [role=button]")) return;
      const control = CONTROLS.find((one) => now.keys[one.control] === event.code)?.control;
      if (control === undefined) return;
      event.preventDefault();
      now.run(control);
    };
    window.addEventListener("keydown", onKeyDown);
    return () => window.removeEventListener("keydown", onKeyDown);
  }, [set]);

  return (
    <fieldset className={styles.controls} aria-label="Controls of the walk">
      {CONTROLS.map(({ control, word, does }) => {
        const pressed = control === "hold" ? held : undefined;
        const waits = setting === control;
        return (
          <Button
            key={control}
            size="walk"
            className={styles.control}
            disabled={disabled && setting === null}
            aria-pressed={setting === null ? pressed : waits}
            aria-keyshortcuts={keyName(keys[control])}
            title={does}
            onClick={(event) => {
              if (setting !== null) {
                setSetting(control);
                return;
              }
              run(control);
              // The keyboard stays the walk's: Space must not press this button again.
              if (event.detail > 0) event.currentTarget.blur();
            }}
          >
            <span className={styles.controlWord}>{control === "hold" && held ? "Go on" : word}</span>
            <kbd className={styles.key}>{waits ? "press a key" : keyName(keys[control])}</kbd>
          </Button>
        );
      })}
      <Button
        size="walk"
        kind="quiet"
        className={styles.setKeys}
        aria-pressed={setting !== null}
        onClick={() => {
          setRefused(null);
          setSetting(setting === null ? "any" : null);
        }}
      >
        {setting === null ? "Keys, tones" : "Done"}
      </Button>
      {setting === null ? null : <ToneSettings />}
      <p className={styles.keysHint} role="status">
        {refused ?? (setting === "any" ? "Choose a control, then press its key or foot switch." : null)}
      </p>
    </fieldset>
  );
}
