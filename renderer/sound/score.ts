/** What a tone tells, in the order of how urgent it is to hear. */
export const TONES = [
  "trouble",
  "outside",
  "return",
  "strike",
  "hold",
  "complete",
  "bore",
  "kept",
  "opened",
  "sweep",
] as const;
export type ToneName = (typeof TONES)[number];

/** One note: times in ms from the start of the tone, pitch in Hz gliding to `toHz`, loudness 0 … 1. */
export interface Note {
  readonly atMs: number;
  readonly lengthMs: number;
  readonly hz: number;
  readonly toHz: number;
  readonly loud: number;
}

const note = (atMs: number, lengthMs: number, hz: number, loud = 0.8, toHz = hz): Note => ({
  atMs,
  lengthMs,
  hz,
  toHz,
  loud,
});

/**
 * The tones. No two share a rhythm, so that they are told apart where pitch is lost; the pitches lie between 300 Hz,
 * below which small loudspeakers give nothing, and 1100 Hz, above which ear defenders take most of it (our choice).
 */
export const SCORES: Readonly<Record<ToneName, readonly Note[]>> = {
  /** One short tick. */
  sweep: [note(0, 60, 880, 0.6)],
  /** Short, then long, rising: it is good. */
  kept: [note(0, 90, 587), note(130, 340, 880)],
  /** Two soft even notes: the next station is open. */
  opened: [note(0, 70, 523, 0.25), note(170, 70, 523, 0.25)],
  /** Three rising steps: another bore. */
  bore: [note(0, 100, 440), note(220, 100, 554), note(440, 240, 659)],
  /** A slide down and a low stop: taken back. */
  strike: [note(0, 300, 740, 0.7, 370), note(450, 90, 330, 0.9)],
  /** Long low, twice: kept, but outside the limits. */
  outside: [note(0, 360, 349, 0.9), note(480, 360, 349, 0.9)],
  /** Long, two short, long: back to the micrometer. */
  return: [note(0, 260, 523, 0.9), note(340, 70, 784, 0.9), note(480, 70, 784, 0.9), note(630, 340, 523, 0.9)],
  /** One long even note: the walk stands, or goes on. */
  hold: [note(0, 700, 440, 0.7)],
  /** Four hammered pairs, high and low. */
  trouble: [0, 1, 2, 3].flatMap((k) => [note(k * 290, 65, 988, 1), note(k * 290 + 95, 65, 494, 1)]),
  /** Four notes up and a long one. */
  complete: [note(0, 140, 392), note(170, 140, 494), note(340, 140, 587), note(510, 140, 784), note(700, 700, 784)],
};

/** Length of a tone, ms. */
export function lengthMs(tone: ToneName): number {
  return Math.max(...SCORES[tone].map((n) => n.atMs + n.lengthMs));
}

/** How often a standing trouble sounds again, ms. */
export const TROUBLE_EVERY_MS = 4000;
