import { CONTROLS, workControl } from "../controls/controls.ts";
import { keyName } from "../controls/walkKeys.ts";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import styles from "./bores.module.css";

/** The large controls of the walk with their keys; a foot switch does the same. */
export function WalkControls({ held, disabled }: { readonly held: boolean; readonly disabled: boolean }) {
  const keys = useStore((state) => state.settings.keys);
  const pedals = useStore((state) => state.settings.footSwitch.lines);
  const switched = useStore((state) => state.footSwitch.link === "open");
  const goTo = useStore((state) => state.actions.goTo);
  return (
    <fieldset className={styles.controls} aria-label="Controls of the walk">
      {CONTROLS.map(({ control, word, does }) => {
        const pedal = switched && pedals[control] !== null;
        return (
          <Button
            key={control}
            size="walk"
            className={styles.control}
            disabled={disabled}
            aria-pressed={control === "hold" ? held : undefined}
            aria-keyshortcuts={keyName(keys[control])}
            title={does}
            onClick={(event) => {
              workControl(control);
              // The keyboard stays the walk's: Space must not press this button again.
              if (event.detail > 0) event.currentTarget.blur();
            }}
          >
            <span className={styles.controlWord}>{control === "hold" && held ? "Go on" : word}</span>
            <kbd className={styles.key}>{keyName(keys[control])}</kbd>
            {pedal ? <span className={styles.pedal}>or pedal</span> : null}
          </Button>
        );
      })}
      <Button size="walk" kind="quiet" className={styles.setKeys} onClick={() => goTo("Settings")}>
        Keys, tones
      </Button>
    </fieldset>
  );
}
