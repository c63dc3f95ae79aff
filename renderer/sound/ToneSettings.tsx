import type { ReactNode } from "react";
import { Button } from "../parts/Button.tsx";
import { useStore } from "../store/store.ts";
import { playTone, wakeAudio } from "./audio.ts";
import styles from "./lamp.module.css";
import { LIGHT_WORDS, lightUp } from "./light.ts";
import { TONES, type ToneName } from "./score.ts";

/** Sound and speech on or off, and every tone to be heard once before the work, with its light. */
export function ToneSettings(): ReactNode {
  const sound = useStore((state) => state.settings.sound);
  const speech = useStore((state) => state.settings.speech);
  const set = useStore((state) => state.actions.set);
  const hear = (tone: ToneName) => {
    wakeAudio();
    lightUp(tone);
    if (sound) playTone(tone);
  };
  return (
    <fieldset className={styles.tones} aria-label="Tones">
      <label className={styles.choice}>
        <input type="checkbox" checked={sound} onChange={(event) => set({ sound: event.target.checked })} />
        Sound
      </label>
      <label className={styles.choice}>
        <input type="checkbox" checked={speech} onChange={(event) => set({ speech: event.target.checked })} />
        Speech, where this machine has a voice
      </label>
      {TONES.toReversed().map((tone) => (
        <Button key={tone} onClick={() => hear(tone)}>
          {LIGHT_WORDS[tone]}
        </Button>
      ))}
    </fieldset>
  );
}
