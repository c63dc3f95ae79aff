import { type ReactNode, useId, useState } from "react";
import { download } from "../findings/download.ts";
import { Button } from "../parts/Button.tsx";
import { FileButton } from "../parts/FileButton.tsx";
import { DEFAULT_SETTINGS, parseSettingsFile, settingsFile } from "../store/settings.ts";
import { useStore } from "../store/store.ts";
import styles from "./settings.module.css";

/** The settings as a file, for another bench or for safety. */
export function FileSection(): ReactNode {
  const settings = useStore((state) => state.settings);
  const set = useStore((state) => state.actions.set);
  const [told, setTold] = useState<{ readonly good: boolean; readonly text: string } | null>(null);
  const id = useId();
  const take = async (file: File) => {
    try {
      set(parseSettingsFile(await file.text(), settings));
      setTold({ good: true, text: `The settings of ${file.name} are in force.` });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      setTold({ good: false, text: `${file.name}: ${why} Nothing was changed.` });
    }
  };
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>Settings as a file</h2>
      <div className={styles.line}>
        <Button onClick={() => download("borewright.settings.json", settingsFile(settings))}>Keep as a file</Button>
        <FileButton label="Settings file" accept=".json,application/json" onFile={(file) => void take(file)}>
          Take from a file
        </FileButton>
        <Button
          onClick={() => {
            set(DEFAULT_SETTINGS);
            setTold({ good: true, text: "Every setting is as it was in the beginning." });
          }}
        >
          As in the beginning
        </Button>
      </div>
      <p className={told?.good === false ? styles.error : styles.said} role="status">
        {told?.text}
      </p>
    </section>
  );
}
