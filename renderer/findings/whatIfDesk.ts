import { create } from "zustand";
import type { WhatIfInput } from "../../core/bridge/messages.ts";
import { LengthError, parseLength } from "../../core/length/parseLength.ts";
import { readTemperature } from "../zero/readTemperature.ts";

/** A what-if as it is being written; empty fields leave the record's own. Going to another place and back keeps it. */
export interface WhatIfDraft {
  readonly limits: "job" | "flat" | "roller" | "own";
  readonly low: string;
  readonly high: string;
  readonly preferredLow: string;
  readonly preferredHigh: string;
  readonly rule: "job" | "guarded" | "simple";
  /** One diameter for every lifter, as of a new set. */
  readonly everyLifter: string;
  /** Diameters of single lifters by name. */
  readonly lifters: Readonly<Record<string, string>>;
  readonly blockC: string;
  readonly lifterC: string;
}

export const NOTHING_ELSE: WhatIfDraft = {
  limits: "job",
  low: "",
  high: "",
  preferredLow: "",
  preferredHigh: "",
  rule: "job",
  everyLifter: "",
  lifters: {},
  blockC: "",
  lifterC: "",
};

interface Desk {
  /** By session; one that is not there asks nothing. */
  readonly drafts: Readonly<Record<string, WhatIfDraft>>;
  show(session: string, open: boolean): void;
  change(session: string, part: Partial<WhatIfDraft>): void;
}

const useDesk = create<Desk>()((set, get) => ({
  drafts: {},
  show(session, open) {
    const { [session]: own = NOTHING_ELSE, ...others } = get().drafts;
    set({ drafts: open ? { ...others, [session]: own } : others });
  },
  change(session, part) {
    const { drafts } = get();
    set({ drafts: { ...drafts, [session]: { ...(drafts[session] ?? NOTHING_ELSE), ...part } } });
  },
}));

/** The what-if of a session and what changes it. */
export function useWhatIf(session: string): {
  readonly open: boolean;
  readonly draft: WhatIfDraft;
  /** Opens it; closing forgets it. */
  readonly show: (open: boolean) => void;
  readonly change: (part: Partial<WhatIfDraft>) => void;
} {
  const draft = useDesk((state) => state.drafts[session]);
  const show = useDesk((state) => state.show);
  const change = useDesk((state) => state.change);
  return {
    open: draft !== undefined,
    draft: draft ?? NOTHING_ELSE,
    show: (wanted) => show(session, wanted),
    change: (part) => change(session, part),
  };
}

/** What is wrong with a field, by its name; a single lifter's by `lifters.` and its name. */
export type WhatIfErrors = Readonly<Record<string, string>>;

/** A what-if as it is asked: null while nothing differs from the record or a field makes no sense. */
export interface WhatIf {
  readonly input: WhatIfInput | null;
  /** What differs, in words. */
  readonly words: readonly string[];
  readonly errors: WhatIfErrors;
}

/** Reads what was written, field by field. */
export function readWhatIf(draft: WhatIfDraft): WhatIf {
  const errors: Record<string, string> = {};
  const words: string[] = [];
  const length = (name: string, text: string): string | undefined => {
    if (text.trim() === "") return undefined;
    try {
      parseLength(text);
      return text.trim();
    } catch (error) {
      if (!(error instanceof LengthError)) throw error;
      errors[name] = `${error.message.charAt(0).toUpperCase()}${error.message.slice(1)}.`;
      return undefined;
    }
  };
  const celsius = (name: "blockC" | "lifterC"): number | undefined => {
    if (draft[name].trim() === "") return undefined;
    const read = readTemperature(draft[name]);
    if (read.value === null) errors[name] = read.error ?? "Expected a temperature in °C.";
    return read.value ?? undefined;
  };

  const input: WhatIfInput = {};
  if (draft.limits === "flat" || draft.limits === "roller") {
    input.limits = draft.limits;
    words.push(`limits of a ${draft.limits} lifter, common practice`);
  }
  if (draft.limits === "own") {
    const low = length("low", draft.low);
    const high = length("high", draft.high);
    const preferredLow = length("preferredLow", draft.preferredLow);
    const preferredHigh = length("preferredHigh", draft.preferredHigh);
    if (low !== undefined && high !== undefined) {
      input.limits = {
        low,
        high,
        ...(preferredLow === undefined ? {} : { preferredLow }),
        ...(preferredHigh === undefined ? {} : { preferredHigh }),
      };
      words.push(`limits ${low} to ${high}`);
    } else {
      if (low !== undefined && draft.high.trim() === "") errors.high = "The largest clearance is needed too.";
      if (high !== undefined && draft.low.trim() === "") errors.low = "The smallest clearance is needed too.";
    }
  }
  if (draft.rule !== "job") {
    input.rule = draft.rule;
    words.push(`the ${draft.rule} rule`);
  }
  const every = length("everyLifter", draft.everyLifter);
  if (every !== undefined) {
    input.everyLifter = every;
    words.push(`every lifter ${every}`);
  }
  const single: Record<string, string> = {};
  for (const [name, text] of Object.entries(draft.lifters)) {
    const own = length(`lifters.${name}`, text);
    if (own === undefined) continue;
    single[name] = own;
    words.push(`lifter ${name} ${own}`);
  }
  if (Object.keys(single).length > 0) input.lifters = single;
  const blockC = celsius("blockC");
  const lifterC = celsius("lifterC");
  if (blockC !== undefined) {
    input.blockC = blockC;
    words.push(`block at ${blockC} °C`);
  }
  if (lifterC !== undefined) {
    input.lifterC = lifterC;
    words.push(`lifters at ${lifterC} °C`);
  }
  return { input: words.length === 0 || Object.keys(errors).length > 0 ? null : input, words, errors };
}
