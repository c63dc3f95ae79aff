import { type ReactNode, useEffect, useRef } from "react";
import { Button } from "../parts/Button.tsx";
import { Choices } from "../parts/Choices.tsx";
import type { Settings, ShownUnit } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./SettingsPanel.module.css";

const THEMES: readonly { value: Settings["theme"]; text: string }[] = [
  { value: "system", text: "As the system" },
  { value: "light", text: "Ink on paper" },
  { value: "dark", text: "Chalk on slate" },
];
const UNITS: readonly { value: ShownUnit; text: string }[] = [
  { value: "in", text: "Inches" },
  { value: "tenths", text: "Tenths (0.0001 in)" },
  { value: "mm", text: "Millimetres" },
  { value: "um", text: "Micrometres" },
];
const FIGURES: readonly { value: Settings["figure"]; text: string }[] = [
  { value: "normal", text: "Normal" },
  { value: "large", text: "Large" },
  { value: "largest", text: "Largest" },
];

/** Choices of this screen; they change no measurement and no record. */
export function SettingsPanel({ onClose }: { readonly onClose: () => void }): ReactNode {
  const settings = useStore((state) => state.settings);
  const set = useStore((state) => state.actions.set);
  const panel = useRef<HTMLDivElement>(null);
  useEffect(() => panel.current?.focus(), []);
  return (
    <div
      id="settings"
      ref={panel}
      tabIndex={-1}
      className={styles.panel}
      role="dialog"
      aria-label="Settings"
      onKeyDown={(event) => {
        if (event.key === "Escape") onClose();
      }}
    >
      <Choices label="Look" value={settings.theme} options={THEMES} onChoose={(theme) => set({ theme })} />
      <Choices label="Small lengths in" value={settings.unit} options={UNITS} onChoose={(unit) => set({ unit })} />
      <Choices
        label="Figure of the walk"
        value={settings.figure}
        options={FIGURES}
        onChoose={(figure) => set({ figure })}
      />
      <Button onClick={onClose}>Close the settings</Button>
    </div>
  );
}
