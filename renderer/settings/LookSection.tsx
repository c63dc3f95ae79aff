import { type ReactNode, useId } from "react";
import { Choices } from "../parts/Choices.tsx";
import type { Settings, ShownUnit } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./settings.module.css";

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
const ENDS: readonly { value: Settings["seenFrom"]; text: string }[] = [
  { value: "front", text: "Its front" },
  { value: "rear", text: "Its rear" },
];

/** How the screen looks, in which unit, and from which end of the block. */
export function LookSection(): ReactNode {
  const settings = useStore((state) => state.settings);
  const set = useStore((state) => state.actions.set);
  const id = useId();
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>Screen</h2>
      <Choices label="Look" value={settings.theme} options={THEMES} onChoose={(theme) => set({ theme })} />
      <Choices label="Small lengths in" value={settings.unit} options={UNITS} onChoose={(unit) => set({ unit })} />
      <Choices
        label="Figure of the walk"
        value={settings.figure}
        options={FIGURES}
        onChoose={(figure) => set({ figure })}
      />
      <Choices
        label="End of the block you stand at"
        value={settings.seenFrom}
        options={ENDS}
        onChoose={(seenFrom) => set({ seenFrom })}
        hint="It turns the picture and never the names."
      />
    </section>
  );
}
