import type { ReactNode } from "react";
import { PlaceFrame } from "../parts/PlaceFrame.tsx";
import { ControlsSection } from "./ControlsSection.tsx";
import { FileSection } from "./FileSection.tsx";
import { FootSwitchSection } from "./FootSwitchSection.tsx";
import { LookSection } from "./LookSection.tsx";
import { SoundSection } from "./SoundSection.tsx";
import styles from "./settings.module.css";

/** Choices of this bench and its screen; they change no measurement and no record. */
export function SettingsPlace(): ReactNode {
  return (
    <PlaceFrame
      title="Settings"
      next="Of this bench and its screen. They are kept for the next start and change no measurement and no record."
    >
      <div className={styles.columns}>
        <div className={styles.column}>
          <LookSection />
          <ControlsSection />
        </div>
        <div className={styles.column}>
          <SoundSection />
          <FootSwitchSection />
          <FileSection />
        </div>
      </div>
    </PlaceFrame>
  );
}
