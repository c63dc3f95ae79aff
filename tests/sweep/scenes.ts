import { type Nm, toNm } from "../../core/length/nm.ts";
import { type CutterEvent, StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Sample } from "../../core/sweep/sweep.ts";
import { type Chance, type Rocking, tilted } from "./rocking.ts";

/** A part of a scripted stream: what the gauge truly reads over some time, nm. */
export interface Scene {
  readonly ms: number;
  readonly readsNm: (sinceMs: number) => number;
}

/** Plays scenes one after another through a display with noise and rounding. */
export function play(
  scenes: readonly Scene[],
  perSecond: number,
  resolutionNm: number,
  noiseNm: number,
  chance: Chance,
): Sample[] {
  const interval = 1000 / perSecond;
  const samples: Sample[] = [];
  let t = chance.between(0, interval);
  let startMs = 0;
  for (const scene of scenes) {
    while (t < startMs + scene.ms) {
      const value = scene.readsNm(t - startMs) + noiseNm * chance.normal();
      samples.push({ tMs: Math.round(t), valueNm: toNm(Math.round(value / resolutionNm) * resolutionNm) });
      t += interval;
    }
    startMs += scene.ms;
  }
  return samples;
}

/** Steady rocking that begins at one end of its swing. */
export function steady(rocking: Rocking, ms: number): Scene {
  const offset = (rocking.offsetDeg * Math.PI) / 180;
  const amplitude = (rocking.amplitudeDeg * Math.PI) / 180;
  return {
    ms,
    readsNm: (t) => tilted(rocking, offset + amplitude * Math.cos((2 * Math.PI * rocking.hertz * t) / 1000)),
  };
}

export function still(nm: number, ms: number): Scene {
  return { ms, readsNm: () => nm };
}

/** From one reading to another along half a cosine, as a hand moves. */
export function glide(fromNm: number, toNm_: number, ms: number): Scene {
  return { ms, readsNm: (t) => fromNm + ((toNm_ - fromNm) * (1 - Math.cos((Math.PI * t) / ms))) / 2 };
}

/** A plain rocking: 21.4 mm bore, 5°, 0.8 Hz, twenty readings a second, square at 0. */
export const plain: Rocking = {
  boreMm: 21.4,
  contactMm: 3,
  amplitudeDeg: 5,
  offsetDeg: 0,
  hertz: 0.8,
  perSecond: 20,
  wander: "turns",
  wanderBy: 0,
  jitterMs: 0,
  jitterOf: "stamp",
  noiseNm: 400,
  resolutionNm: 1270,
  squareNm: 0,
};

/** Everything the cutter says of these samples. */
export function cut(samples: readonly Sample[], resolutionNm: number, farNm: number | null): CutterEvent[] {
  const cutter = new StreamCutter({ resolutionNm: resolutionNm as Nm });
  cutter.setFar(farNm as Nm | null);
  return samples.flatMap((sample) => cutter.push(sample));
}

/** A short text of what came, such as "entered pass pass stopped". */
export function told(events: readonly CutterEvent[]): string {
  return events.map((event) => event.type).join(" ");
}
