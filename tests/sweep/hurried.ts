import { type Nm, toNm } from "../../core/length/nm.ts";
import { StreamCutter } from "../../core/sweep/streamCutter.ts";
import type { Pass } from "../../core/sweep/sweep.ts";
import { anyRocking, Chance, rock } from "./rocking.ts";

/** Five to twenty readings a second of a rocking of up to 1.6 Hz; with every seventh seed a contact sticks in one pass. */
export function hurried(seed: number): { passes: Pass[]; resolutionNm: Nm } {
  const chance = new Chance(seed);
  const perSecond = [5, 6, 8, 10, 20][seed % 5] as number;
  const drawn = anyRocking(chance, perSecond, seed % 3 ? "turns" : "smooth", seed % 2 ? "stamp" : "reading");
  const rocking = { ...drawn, hertz: chance.between(0.5, 1.6) };
  const cutter = new StreamCutter({ resolutionNm: toNm(rocking.resolutionNm) });
  const passes = rock(rocking, chance, 5 / rocking.hertz)
    .flatMap((sample) => cutter.push(sample))
    .flatMap((event) => (event.type === "pass" && event.pass.end === "turned" ? [event.pass] : []))
    .slice(0, 8);
  if (seed % 7 !== 0) return { passes, resolutionNm: toNm(rocking.resolutionNm) };
  const { samples } = passes[2] as Pass;
  const stuck = samples.map((sample, k) =>
    k > 1 && k < samples.length - 1 && k % 2 ? { ...sample, valueNm: toNm(sample.valueNm + 25_000) } : sample,
  );
  return { passes: passes.with(2, { end: "turned", samples: stuck }), resolutionNm: toNm(rocking.resolutionNm) };
}
