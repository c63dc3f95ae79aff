/** How many times slower a sender can be told to be; ten times slower, no byte holds a whole bit of it. */
const RATIOS = [8, 4, 2] as const;
/** Whole runs of equal bits looked at before a ratio is believed; by chance all fit once in 2^n. */
const ENOUGH_RUNS = 8;

/**
 * How many times slower the sender is than this receiver, from what came in at the wrong speed: 2, 4 or 8; 1 where it is
 * not so; null where too little came to tell.
 *
 * Derived here: a receiver takes its samples one bit time apart, counted from the fall of the start bit. Of a sender that
 * is n times slower each bit is n samples long, so every run of equal samples that is whole within a byte is a multiple
 * of n. The last run may be cut by the byte's end. The first, which the start bit belongs to, may be cut as well where
 * the byte before ended low: a receiver that misses a stop bit takes the low it finds for the next start.
 */
export function timesSlower(bytes: Uint8Array): number | null {
  const runs: number[] = [];
  let before = 0x80;
  for (const byte of bytes) {
    const whole = runsWithin(byte);
    runs.push(...(before >= 0x80 ? whole : whole.slice(1)));
    before = byte;
  }
  if (runs.length < ENOUGH_RUNS) return null;
  return RATIOS.find((ratio) => runs.every((run) => run % ratio === 0)) ?? 1;
}

/** Lengths of the runs of equal samples from the start bit on, without the last, which may go on beyond the byte. */
function runsWithin(byte: number): number[] {
  const runs: number[] = [];
  let level = 0;
  let length = 1;
  for (let bit = 0; bit < 8; bit += 1) {
    const next = (byte >> bit) & 1;
    if (next === level) length += 1;
    else {
      runs.push(length);
      level = next;
      length = 1;
    }
  }
  return runs;
}
