import { toNm } from "../../core/length/nm.ts";
import type { Remedy } from "../../core/report/remedySchema.ts";
import type { Random } from "../../electron/simulator/random.ts";
import type { TrueBlock } from "../../electron/simulator/trueBlock.ts";

/**
 * Carries a plan out: lifters put where they go, and every bore that is to be cut made to a true size anywhere between
 * the finished ones, with what is left of taper and oval inside them too. Bores and lifters that the plan does not name stay as they are; lifters are named after the bore they
 * are then in.
 */
export function machineAsPlanned(remedy: Remedy, before: TrueBlock, random: Random): TrueBlock {
  const lifters = new Map(before.lifters);
  const bores = new Map(before.bores);
  for (const deed of remedy.block.plan) {
    if (deed.moves === true) {
      const lifter = before.lifters.get(deed.lifter ?? "");
      if (lifter === undefined) throw new Error(`the plan moves lifter ${deed.lifter} to ${deed.bore}; there is none`);
      lifters.set(deed.bore, lifter);
    }
    if (deed.kind === "body") lifters.set(deed.bore, toNm(deed.lifterNm as number));
    const form = before.bores.get(deed.bore);
    if (deed.finishLowNm === null || deed.finishLowNm === undefined || form === undefined) continue;
    const high = deed.finishHighNm as number;
    // A hone takes metal off and puts none on; a bush begins anew.
    const low = deed.kind === "bush" ? deed.finishLowNm : Math.max(deed.finishLowNm, largestOf(form));
    if (low >= high) continue;
    // Together no more than the window is wide, so that no station ends outside.
    const left = Math.min(1, (0.4 * (high - low)) / (Math.abs(form.taperNm) + Math.abs(form.ovalNm) + 1));
    const taperNm = form.taperNm * left * random.next();
    const ovalNm = form.ovalNm * left * random.next();
    const half = (Math.abs(taperNm) + Math.abs(ovalNm)) / 2;
    bores.set(deed.bore, { diameterNm: random.between(low + half, high - half), taperNm, ovalNm });
  }
  return { lifters, bores };
}

type Form = { readonly diameterNm: number; readonly taperNm: number; readonly ovalNm: number };

function largestOf({ diameterNm, taperNm, ovalNm }: Form): number {
  return diameterNm + (Math.abs(taperNm) + Math.abs(ovalNm)) / 2;
}
