import { type ReactNode, useId, useSyncExternalStore } from "react";
import { Button } from "../parts/Button.tsx";
import { Check } from "../parts/Choices.tsx";
import { wakeAudio } from "../sound/audio.ts";
import { Lamp, ToneShape } from "../sound/Lamp.tsx";
import { LIGHT_WORDS, lightUp } from "../sound/light.ts";
import { TONES, type ToneName } from "../sound/score.ts";
import { soundTone } from "../sound/soundTone.ts";
import { localVoice, say, watchVoices } from "../sound/speech.ts";
import { useStore } from "../store/store.ts";
import styles from "./settings.module.css";

/** What each tone tells, in one line. */
const TELLS: Readonly<Record<ToneName, string>> = {
  sweep: "a sweep was heard",
  kept: "a station, lifter or zero is kept, on disk",
  opened: "the next station is open (quieter)",
  bore: "the next bore is open",
  strike: "something was taken back",
  hold: "the walk is on hold, or goes on",
  return: "a return check comes first",
  outside: "kept, and outside the limits",
  trouble: "trouble; again and again until it is dealt with",
  complete: "the walk is complete",
};

/** Every tone on or off, how loud, and to be tried beforehand with its light; and speech. */
export function SoundSection(): ReactNode {
  const { sound, loudness, tones } = useStore((state) => state.settings);
  const set = useStore((state) => state.actions.set);
  const id = useId();
  const tryOut = (tone: ToneName) => {
    wakeAudio();
    lightUp(tone);
    soundTone(tone);
  };
  return (
    <section className={styles.section} aria-labelledby={id}>
      <h2 id={id}>Sounds</h2>
      <div className={styles.line}>
        <Check label="Sound" checked={sound} onChange={(on) => set({ sound: on })} />
        <label className={styles.slider}>
          Loudness
          <input
            type="range"
            min="0"
            max="100"
            step="5"
            value={Math.round(loudness * 100)}
            disabled={!sound}
            onChange={(event) => set({ loudness: Number(event.target.value) / 100 })}
          />
          <output>{Math.round(loudness * 100)} %</output>
        </label>
        <Lamp />
      </div>
      <div className={styles.tones}>
        {TONES.toReversed().map((tone) => (
          <div key={tone} className={styles.row}>
            <svg viewBox="-12 -12 24 24" className={styles.shape} aria-hidden="true">
              <ToneShape tone={tone} />
            </svg>
            <Check
              label={
                <span>
                  <span className={styles.word}>{LIGHT_WORDS[tone]}</span>: {TELLS[tone]}
                </span>
              }
              checked={tones[tone]}
              onChange={(on) => set({ tones: { ...tones, [tone]: on } })}
            />
            <Button aria-label={`Try ${LIGHT_WORDS[tone]}`} onClick={() => tryOut(tone)}>
              Try
            </Button>
          </div>
        ))}
      </div>
      <p className={styles.note}>A tone that is turned off keeps its light.</p>
      <Speech />
    </section>
  );
}

const EXAMPLE = "5 intake, upper, 16 tenths.";

function Speech(): ReactNode {
  const speech = useStore((state) => state.settings.speech);
  const set = useStore((state) => state.actions.set);
  const voice = useSyncExternalStore(watchVoices, () => localVoice()?.name ?? null);
  return (
    <div className={styles.line}>
      <Check label="Speech" checked={speech} onChange={(on) => set({ speech: on })} />
      {voice === null ? (
        <p className={styles.note}>
          This computer has no English voice of its own, so nothing is said. A voice from elsewhere is never used.
        </p>
      ) : (
        <>
          <Button onClick={() => say(EXAMPLE)}>Try speech</Button>
          <p className={styles.note}>
            “{EXAMPLE}” by {voice}
          </p>
        </>
      )}
    </div>
  );
}
