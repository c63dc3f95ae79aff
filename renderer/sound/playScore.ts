import { SCORES, type ToneName } from "./score.ts";

/**
 * Writes a tone into an audio context from `when` (s, context time) at `volume` (0 … 1). Works on a live context and
 * on an offline one. Each note swells and fades over a few ms so that no click is heard.
 */
export function playScore(context: BaseAudioContext, tone: ToneName, when: number, volume: number): void {
  for (const { atMs, lengthMs, hz, toHz, loud } of SCORES[tone]) {
    const start = when + atMs / 1000;
    const end = start + lengthMs / 1000;
    const edge = Math.min(0.012, lengthMs / 4000);
    const oscillator = context.createOscillator();
    oscillator.type = "triangle";
    oscillator.frequency.setValueAtTime(hz, start);
    if (toHz !== hz) oscillator.frequency.exponentialRampToValueAtTime(toHz, end);
    const envelope = context.createGain();
    envelope.gain.setValueAtTime(0, start);
    envelope.gain.linearRampToValueAtTime(loud * volume, start + edge);
    envelope.gain.setValueAtTime(loud * volume, end - edge);
    envelope.gain.linearRampToValueAtTime(0, end);
    oscillator.connect(envelope).connect(context.destination);
    oscillator.start(start);
    oscillator.stop(end);
  }
}
