import type { Verdict } from "../fit/finding.ts";
import type { Ms } from "../gauge/ms.ts";
import type { SessionInput } from "./event.ts";

/** What a hand finds when an oiled lifter is let down into its bore and turned. */
export const FEELS = ["free", "drags", "binds"] as const;
export type Feel = (typeof FEELS)[number];

const WORDS: Readonly<Record<Feel, string>> = {
  free: "falls and turns freely",
  drags: "drags",
  binds: "binds",
};

/** What was found by hand, in words. */
export function feelWords(found: Feel): string {
  return WORDS[found];
}

/** What was found by hand in a bore, as last entered. It stands beside the verdict and never changes it. */
export interface FeelView {
  readonly bore: string;
  readonly tMs: Ms;
  readonly found: Feel;
  /** The lifter that went into this bore at the time, named after the bore it was measured for. */
  readonly lifter: string;
  /** With which oil, in the operator's words; empty if not said. */
  readonly oil: string;
  readonly note: string;
  /** Why it no longer speaks of what the figures speak of; null while it does. */
  readonly outdated: "other lifter" | "measured again" | null;
}

type FeelInput = Extract<SessionInput, { type: "feel" }>;

/** What was found by hand, bore by bore: the last entry counts until it is withdrawn. */
export class FeelLog {
  readonly #entries = new Map<string, Omit<FeelView, "outdated">>();

  /** Enters what was found with `lifter`, or withdraws what stands for the bore. */
  enter({ t, bore, found, oil, note }: FeelInput, lifter: string): void {
    if (found === null) this.#entries.delete(bore);
    else this.#entries.set(bore, { bore, tMs: t, found, lifter, oil: oil ?? "", note: note ?? "" });
  }

  /**
   * The entries that stand, in the order of `bores`. `lifterOf` says which lifter goes into a bore now, `lastClosedMs`
   * when the last of its stations closed (null while none is).
   */
  view(
    bores: readonly string[],
    lifterOf: (bore: string) => string,
    lastClosedMs: (bore: string) => Ms | null,
  ): FeelView[] {
    return bores.flatMap((bore) => {
      const entry = this.#entries.get(bore);
      if (entry === undefined) return [];
      const again = (lastClosedMs(bore) ?? 0) > entry.tMs;
      const outdated = entry.lifter !== lifterOf(bore) ? "other lifter" : again ? "measured again" : null;
      return [{ ...entry, outdated }];
    });
  }
}

/** Where to look when a lifter does not move freely. Common practice, no source. */
const LOOK =
  "Do not force it. Look for a burr or sharp edge at the mouth of the bore and on the lifter, for dirt or dried oil in either, and whether block and lifter are equally warm; a bore that is three-lobed or curved, which two contacts cannot see, holds a lifter too. Then measure bore and lifter again (common practice, no source).";

const TIGHT_BUT_FREE =
  "Free by hand does not make it fit: a lifter falls freely through less clearance than the limits ask for, and no hand feels what they leave for oil and heat (common practice, no source).";

/**
 * What an entry is worth a sentence for, beside the bore's verdict; null where hand and gauge say the same. It decides
 * nothing: a hand tells a few micrometres from none, not from the limits.
 */
export function feelSentence({ found, lifter, outdated }: FeelView, verdict: Verdict): string | null {
  if (outdated === "other lifter")
    return `Felt with lifter ${lifter}, which is not the one that goes in now: feel it again.`;
  if (outdated === "measured again") return "Felt before this bore was last measured: feel it again.";
  if (found === "free") return verdict === "too tight" ? TIGHT_BUT_FREE : null;
  switch (verdict) {
    case "too tight":
      return null;
    case "fits":
      return `Hand and gauge disagree: by the figures it fits, by hand the lifter ${found}. ${LOOK}`;
    case "too loose":
      return `Hand and gauge disagree: by the figures it is too loose, by hand the lifter ${found}. ${LOOK}`;
    case "undecided":
      return `The figures leave this bore open, and by hand the lifter ${found}. ${LOOK}`;
    case "not measured":
      return `By hand the lifter ${found}, and no verdict stands beside it. ${LOOK}`;
  }
}

/** Whether hand and gauge contradict each other: the lifter is held where the figures leave it room. */
export function handDisagrees({ found, outdated }: FeelView, verdict: Verdict): boolean {
  return outdated === null && found !== "free" && (verdict === "fits" || verdict === "too loose");
}
